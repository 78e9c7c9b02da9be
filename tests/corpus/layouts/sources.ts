/** Small scores in LilyPond's language, each with one trouble of layout. What is in `\score` stands here. */
const line = (bars: number, music = "c'4 d' e' f'") => Array.from({ length: bars }, () => music).join(' | ');

export interface Layout {
  readonly name: string;
  /** Scores of the page, in order. */
  readonly scores: readonly string[];
  /** Bars that no bar line ends, as LilyPond's account does not know them. */
  readonly open?: number;
  readonly paper?: string;
  readonly layout?: string;
}

const tune = (bars = 16) => `\\new Staff { ${line(bars)} \\bar "|." }`;
const voices = (count: number, bars = 8) =>
  Array.from(
    { length: count },
    (_, i) =>
      `\\new Staff { \\clef ${i > count / 2 ? 'bass' : 'treble'} ${line(bars, i > count / 2 ? 'c4 d e f' : "c''2 d''4 e''")} \\bar "|." }`,
  ).join(' ');

export const layouts: readonly Layout[] = [
  { name: 'piano', scores: [`\\new PianoStaff << ${voices(2, 12)} >>`] },
  { name: 'five-staves', scores: [`\\new StaffGroup << ${voices(5)} >>`] },
  { name: 'choir-lines-apart', scores: [`\\new ChoirStaff << ${voices(4)} >>`] },
  { name: 'indented', scores: [tune()], paper: 'indent = 35\\mm' },
  {
    name: 'close',
    scores: [tune(32)],
    paper: "system-system-spacing = #'((basic-distance . 6) (minimum-distance . 5) (padding . 0.4))",
  },
  { name: 'tunes', scores: [tune(5), tune(9), tune(4)], paper: 'ragged-last = ##t' },
  { name: 'tiny', scores: [tune(24)], layout: '#(layout-set-staff-size 9)' },
  { name: 'huge', scores: [tune(12)], layout: '#(layout-set-staff-size 40)' },
  { name: 'short-lines', scores: [tune(14)], paper: 'ragged-right = ##t' },
  {
    name: 'open-lines',
    open: 2,
    scores: [
      `\\new Staff { ${line(3)} | c'4 d' \\bar "" \\break e' f' | ${line(3)} | c'4 d' \\bar "" \\break e' f' | ${line(4)} \\bar "|." }`,
    ],
  },
  {
    name: 'open-end',
    open: 1,
    scores: [`\\new Staff { ${line(4)} | \\break ${line(3)} | c'4 d' e' f' \\bar "" }`],
  },
  {
    name: 'cue-size',
    scores: [
      `<< \\new Staff \\with { \\magnifyStaff #2/3 } { ${line(8, "c''4 d'' e'' f''")} \\bar "|." } \\new Staff { ${line(8)} \\bar "|." } >>`,
    ],
  },
  {
    name: 'ossia',
    scores: [
      `\\new Staff = main { ${line(5)} | << { ${line(2)} } \\new Staff \\with { \\remove Time_signature_engraver \\magnifyStaff #2/3 \\override StaffSymbol.stencil = #ly:staff-symbol::print \\override BarLine.stencil = #ly:bar-line::print alignAboveContext = main firstClef = ##f } { ${line(2, "e''4 f'' g'' a''")} } >> ${line(5)} \\bar "|." }`,
    ],
  },
  {
    name: 'rhythm-and-melody',
    scores: [
      `<< \\new RhythmicStaff { ${line(8, 'c4 c8 c c2')} \\bar "|." } \\new Staff { ${line(8)} \\bar "|." } >>`,
    ],
  },
  { name: 'rhythm', scores: [`\\new RhythmicStaff { ${line(12, 'c4 c8 c c2')} \\bar "|." }`] },
  {
    name: 'slashes',
    scores: [`\\new Staff { \\improvisationOn ${line(12, "b'4 b' b' b'")} \\bar "|." }`],
    layout: '\\context { \\Voice \\consists Pitch_squash_engraver }',
  },
  {
    name: 'verses',
    scores: [
      `<< \\new Voice = one { ${line(8)} \\bar "|." } \\new Lyrics \\lyricsto one { ${'la '.repeat(32)} } \\new Lyrics \\lyricsto one { ${'lo '.repeat(32)} } >>`,
    ],
  },
  {
    name: 'stems-from-line-to-line',
    scores: [`\\new Staff { ${line(12, "f''4 f'' e' e'")} \\bar "|." }`],
    layout: "\\override Stem.length = #8 \\override Stem.details.beamed-lengths = #'(4)",
  },
  {
    name: 'stop-start',
    scores: [`\\new Staff { ${line(3)} | \\stopStaff s1 \\startStaff ${line(4)} \\bar "|." }`],
  },
];
