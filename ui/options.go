package ui

import (
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Options are what the dashboard is started with.
type Options struct {
	Store      Store  // nil: there is no cellar yet, and the first screen offers to make one
	Path       string // where the cellar is, or would be made
	Create     func(model.Settings) (Store, error)
	Sweeteners []model.Sweetener
	Fruits     []model.Fruit
	Acids      []calc.AcidKind
	Carbonates []calc.Carbonate
	Nutrients  []calc.NitrogenSource
	Handbook   Handbook         // where own rows are kept; nil: none can be
	Containers []calc.Container // bottles and other closed vessels

	Sorbate       calc.SorbateTable
	SulfiteLimits []calc.SulfiteLimit

	// SaveBeside writes a file into the folder of the cellar, whole or not at all, and
	// returns its path. Unless over is set its error wraps fs.ErrExist when there is
	// one. Nil: nothing can be written there.
	SaveBeside func(name string, content []byte, over bool) (path string, err error)

	Now    func() time.Time
	Styles *Styles
	Glyphs Glyphs
	Demo   bool // an invented cellar, thrown away afterwards

	// Settle is how long the cursor must rest on a vessel before its batch is read
	// and drawn: on a slow line a walk along the shelf then sends two short lines
	// a step and not a chart. Zero is at once.
	Settle time.Duration

	// LookEvery is how often the store is asked whether another session wrote;
	// zero is never.
	LookEvery time.Duration
}

// larder is all that can go into a must.
func (o Options) larder() model.Larder {
	return model.Larder{Sweeteners: o.Sweeteners, Fruits: o.Fruits, Acids: o.Acids, Carbonates: o.Carbonates, Nutrients: o.Nutrients}
}
