\version "2.24.1"
\include "layout.ily"
\header { title = "Fog Bell" }

harmony = \chordmode {
  bes1:maj7 g:m7 c:m7 f:7 d:m7 g:7 c:m7 f:7
  ees:maj7 ees:m6 bes:maj7 g:7 c:7 f:7 bes:6 bes:6
}

tune = \relative c'' {
  \tempo "Medium"
  \key bes \major
  \time 4/4
  f,4 bes8 d~ d2 | bes4 g8 d'~ d2 | ees4 c8 g~ g4 bes | a2 f | \break
  f4 a8 c~ c4 a | b4 g8 f~ f2 | ees4 g8 bes~ bes4 a | c2 r2 | \break
  g4 bes8 d~ d4 bes | ges4 bes8 c~ c2 | d4 c8 bes f4 d | b'4 g2. | \break
  e4 g8 bes~ bes4 g | a8 c ees4 d c | bes1~ | bes2. r4 \bar "|."
}

\score { << \new ChordNames \harmony \new Staff \tune >> }
