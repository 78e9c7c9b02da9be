\version "2.24.1"
\include "layout.ily"
\header { title = "Two Tides" }

harmony = \chordmode {
  \repeat volta 2 { c1 a:m7 d:m7 g:7 e:m7 a:7 }
  \alternative { { d:m7 g:7 } { d2:m7 g:7 c1:6 } }
  \repeat volta 2 { f1:maj7 f:m6 c:maj7 a:7 d:7 d:7 d:m7 g:7 }
  c1 c:6
}

tune = \relative c'' {
  \tempo "Relaxed"
  \key c \major
  \time 4/4
  \sec "A"
  \repeat volta 2 {
    g4 e8 g~ g4 c | b a8 e~ e2 | f4 d8 f~ f4 a | g2. r4 | \break
    g4 b8 d~ d4 b | cis4. a8~ a2 |
  }
  \alternative {
    { a8 b c a f4 d | b'2. r4 | \break }
    { a8 f d4 b'8 g f d | c2. r4 | }
  }
  \sec "B"
  \repeat volta 2 {
    a'4 c8 e~ e4 c | aes4 c8 d~ d2 | \break
    e4 d8 b g4 e | a2 g4 e | fis4 a8 c~ c4 a | d8 c a fis d2 | \break
    f4 a8 c~ c4 f, | g2. r4 |
  }
  e4 g8 c~ c2~ | c2. r4 \bar "|."
}

\score { << \new ChordNames \harmony \new Staff \tune >> }
