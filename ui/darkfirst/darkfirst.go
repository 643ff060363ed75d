// Package darkfirst answers, before anybody asks, the question whether the
// terminal is dark.
//
// The screen library asks the terminal for its background while it initialises,
// before main runs. Over SSH that is a round trip; on a terminal that does not
// answer it is five seconds, and it can swallow keys already typed. Go
// initialises packages in the order of their import paths once what they import
// is ready, so this one, which imports only the style library and whose path
// sorts before the screen library's, gets in first. Import it for its effect.
package darkfirst

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }
