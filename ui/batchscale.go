package ui

import (
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// Lines that the pane of a batch has: below tightBelow a line of it is worth more than a
// figure, and from whyFrom it also says what may explain that less is in the vessel than
// written down.
const (
	tightBelow = 10
	whyFrom    = 24
)

// onScale sets what the last weighing tells behind the figures, the last of which is the
// sugar. In a tight pane it takes the place of that rather than of the chart.
func (p batchPane) onScale(figures []string, row model.Row, w, h int, say words.Words, st *Styles) []string {
	lines := flow(figures, w, "   ")
	k, ok := p.state.LastWeighing()
	if !ok || k.Vessel != row.Vessel.ID {
		return lines
	}
	by := k.With(row.Vessel.Tare)
	if !k.Current {
		by.Volume = 0 // of what was there then
	}
	told := say.OnScale(k, by, h < tightBelow)
	if len(told) == 0 {
		return lines
	}
	if h < tightBelow {
		kept := 3 // gravity, strength, volume
		if by.Short() != 0 {
			kept = 2 // the volume is told of
		}
		if short := flow(append(figures[:kept:kept], told...), w, "   "); len(short) <= len(lines) {
			return short
		}
	}
	lines = append(lines, flow(append(told, st.Muted.Render(k.At.Format("2 Jan"))), w, "   ")...)
	if why := say.WhyShort(by); why != "" && h >= whyFrom {
		lines = append(lines, indented(wrap(p.opts.Glyphs.text(why), w-4), st.Muted.Render)...)
	}
	return lines
}
