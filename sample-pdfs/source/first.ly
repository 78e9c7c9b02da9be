\version "2.24.1"
\include "layout.ily"
#(set-global-staff-size 25)
\header { title = "Slack Water" }

harmony = \chordmode {
  f1:maj7 d:m7 g:m7 c:7
  a2:m7 d:7 g1:m7 c:7 f:6
}

tune = \relative c' {
  \tempo "Easy swing"
  \key f \major
  \time 4/4
  c8 f a4 g8 f4. | d4 f8 a~ a2 | r8 bes a g f4 d | e2. r4 | \break
  c'4 b8 c a4 fis | g8 bes d4~ d4. c8 | bes4 g8 e~ e4 g | f1 \bar "|."
}

\score { << \new ChordNames \harmony \new Staff \tune >> }
