\version "2.24.1"
\include "layout.ily"
#(set-global-staff-size 23)
\paper { system-system-spacing.basic-distance = #19 }
\header { title = "Long Passage Home" }

eightA = \chordmode { d1:m7 d:m7 bes:7 a:7 d:m7 g:7 e2:m7.5- a:7 d1:m7 }
eightB = \chordmode { g1:m7 c:7 f:maj7 bes:maj7 e:m7.5- a:7 d:m7 a:7 }
eightC = \chordmode { bes1:maj7 c f a:m7 g:m7 g:m7 a:sus4 a:7 }
harmony = { \eightA \eightA \eightB \eightC \eightA \chordmode { bes1:maj7 c d:m7 d:m7 } }

tuneA = \relative c' {
  d4 f8 a~ a4 c | a8 f d4~ d2 | d4 f8 aes~ aes4 bes | g2 e | \break
  f8 g a4 c4. d8 | b4 g8 d~ d2 | e8 g bes4 a g8 e | d2. r4 |
}
tuneB = \relative c'' {
  r8 bes d f~ f4 d | e8 d c bes g2 | r8 a c e~ e4 c | d8 c bes a f2 | \break
  g4 bes8 e~ e4 d | cis8 bes a g e2 | f4 a8 d~ d2 | r1 |
}
tuneC = \relative c'' {
  d4. c8 bes4 f | g4. bes8 c2 | a4. g8 f4 c | e2 c | \break
  bes'8 a g d' c4 bes | g2. r4 | d'8 e d4~ d2 | cis2. r4 |
}
coda = \relative c' { f4 d8 bes'~ bes2 | g4 e8 c'~ c2 | d1~ | d2. r4 | }

tune = {
  \tempo "Slow"
  \key d \minor
  \time 4/4
  \sec "A" \tuneA \break
  \sec "A" \tuneA \bar "||" \break
  \sec "B" \tuneB \bar "||" \pageBreak
  \sec "C" \tuneC \bar "||" \break
  \sec "A" \tuneA \break
  \sec "Out" \coda \bar "|."
}

\score { << \new ChordNames \harmony \new Staff \tune >> }
