package ui

import (
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// whyFrom is how many lines the pane of a batch has from which it also says what may
// explain that less is in the vessel than written down.
const whyFrom = 24

// onScale says what the last weighing tells that the figures above it do not.
func (p batchPane) onScale(row model.Row, w, h int, say words.Words, st *Styles) []string {
	k, ok := p.state.LastWeighing()
	if !ok || k.Fruit || k.Vessel != row.Vessel.ID {
		return nil
	}
	by := k.With(row.Vessel.Tare)
	if !k.Current {
		by.Volume = 0 // of what was there then
	}
	var lines []string
	if said := say.ShortOnes(k, by); len(said) > 0 {
		lines = flow(append(said, st.Muted.Render(k.At.Format("2 Jan"))), w, "   ")
	}
	if why := say.WhyShort(by); why != "" && h >= whyFrom {
		lines = append(lines, indented(wrap(p.opts.Glyphs.text(why), w-4), st.Muted.Render)...)
	}
	return lines
}
