package ui

import "github.com/charmbracelet/bubbles/textinput"

// typedIn draws what is typed in w cells, the cursor's among them. What is longer moves
// along under the cursor, so that nobody types where they cannot see.
func typedIn(in textinput.Model, w int) string {
	at := in.Position()
	in.Width = max(4, w-1)
	in.CursorStart() // the input looks again at what fits only where the cursor leaves it
	in.SetCursor(at)
	return in.View()
}
