\version "2.24.1"
\include "layout.ily"
#(set-global-staff-size 20)
\header { title = "The Net Menders" }

\paper {
  ragged-bottom = ##f
  ragged-last-bottom = ##f
  system-system-spacing.basic-distance = #16
}

eightA = \chordmode {
  g1:m7 c:7 f:maj7 d:7
  g:m7 c:7 f:6 f:6
}
harmony = {
  \eightA \eightA
  \chordmode {
    bes1:m7 ees:7 aes:maj7 aes:6
    a:m7 d:7 g:m7 c:7
  }
  \eightA
}

tuneA = \relative c'' {
  g8 bes d4~ d8 c bes g | e4 g8 c~ c2 | a8 c e4~ e8 d c a | fis2. r4 | \break
  g8 a bes4 d8 c bes g | c4. bes8 g4 e | f2 a4 c | f,2. r4 |
}
tuneB = \relative c'' {
  des4 bes8 des~ des4 aes | g8 bes des4 ees2 | c4 aes8 c~ c4 g | f2. r4 | \break
  c'4 a8 c~ c4 g | fis8 a c4 d2 | bes4 g8 bes~ bes4 a | g2. r4 |
}

tune = {
  \tempo "Medium swing"
  \key f \major
  \time 4/4
  \sec "A" \tuneA \break
  \sec "A" \tuneA \bar "||" \break
  \sec "B" \tuneB \bar "||" \break
  \sec "A" \tuneA \bar "|."
}

\score { << \new ChordNames \harmony \new Staff \tune >> }
