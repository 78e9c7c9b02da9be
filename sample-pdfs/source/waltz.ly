\version "2.24.1"
\include "layout.ily"
\header { title = "Ropewalk Waltz" }

harmony = \chordmode {
  s4
  g2. e:m7 a:m7 d:7
  b:m7 e:m7 a:m7 d:7
  g:7 c e:7 a:m7
  c2.:m6 g/d d:7 g
}

tune = \relative c' {
  \tempo "Flowing"
  \key g \major
  \time 3/4
  \partial 4 d4 |
  b'4. a8 g4 | e2 g4 | c4. b8 a4 | fis2 d4 | \break
  d'4. c8 b4 | g2 e4 | a b c | a2 r4 | \break
  b4. c8 d4 | e2 c4 | gis4. a8 b4 | c2 a4 | \break
  ees'4. d8 c4 | b2 g4 | a4. fis8 d4 | g2. \bar "|."
}

\score { << \new ChordNames \harmony \new Staff \tune >> }
