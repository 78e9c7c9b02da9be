\version "2.24.1"

% What every sample shares: one melody staff with chord symbols, four bars a line, large and plain.
#(set-global-staff-size 22)

\paper {
  #(set-paper-size "a4")
  tagline = ##f
  print-page-number = ##f
  indent = 0
  ragged-right = ##f
  ragged-last = ##f
  ragged-bottom = ##t
  ragged-last-bottom = ##t
  left-margin = 16\mm
  right-margin = 16\mm
  top-margin = 14\mm
  bottom-margin = 12\mm
  markup-system-spacing.basic-distance = #14
  system-system-spacing.basic-distance = #18
  system-system-spacing.minimum-distance = #13
  system-system-spacing.padding = #2
}

\layout {
  \context {
    \Score
    \omit BarNumber
    \override SpacingSpanner.base-shortest-duration = #(ly:make-moment 1/8)
    \override VoltaBracket.font-size = #-1
  }
  \context {
    \ChordNames
    \override ChordName.font-size = #2.5
  }
}

% Sections stand in a box over their first bar.
sec = #(define-music-function (name) (string?)
  #{ \sectionLabel \markup \box \bold \fontsize #-1 #name #})
