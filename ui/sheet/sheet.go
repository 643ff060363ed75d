// Package sheet puts one batch on paper: its journal as a diary, its curve, its figures
// and what to know before drinking it, as one plain document that is then written as
// Markdown or as a page of HTML. Both are made from the same sections, so that they say
// the same.
//
// It opens no store and no file and reads no clock: the batch and what it works out to
// come in, text goes out. What people typed is escaped here for what it is written in.
package sheet

import (
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// Source is all that a sheet is made from.
type Source struct {
	Batch   model.Batch
	State   model.State
	Err     error         // why the journal could not be worked out; nil: it could
	Outlook model.Outlook // the zero Outlook: nothing is said of the future
	Labels  words.Labels
	Tares   model.Tares  // nil: none is known
	Larder  model.Larder // for the handbook's cautions
	Sorbate calc.SorbateTable
	Words   words.Words
	Now     time.Time // its location is the person's
}

// Sheet is a batch as a document.
type Sheet struct {
	Title    string
	Lot      string
	Facts    []Row // under the title
	Sections []Section
	Foot     []string
}

// Row is a thing and what is said of it.
type Row struct{ Name, Value string }

// Section is a heading and what stands under it; each of the parts may be missing.
type Section struct {
	Title string
	Text  []string // paragraphs
	Items []string // a list
	Table Table
	Curve Curve
}

// Table is rows of as many cells as its head. Right says which columns are figures, and
// Words which one may be broken over lines.
type Table struct {
	Head  []string
	Right []bool
	Words int
	Rows  [][]string
}

// New writes the sheet of a batch. A journal that cannot be worked out still makes one,
// as far as it goes: it says what is wrong.
func New(s Source) Sheet {
	w := writer{s}
	out := Sheet{
		Title: s.Words.Text(s.Batch.Name),
		Lot:   s.Batch.Lot(),
		Facts: w.facts(),
		Foot:  w.foot(),
	}
	for _, section := range []Section{w.ingredients(), w.gravity(), w.figures(), w.standing(), w.bottling(), w.tastings(), w.cautions(), w.diary()} {
		if !section.empty() {
			out.Sections = append(out.Sections, section)
		}
	}
	return out
}

func (s Section) empty() bool {
	return len(s.Text) == 0 && len(s.Items) == 0 && len(s.Table.Rows) == 0 && s.Curve.empty()
}

// Name is a file name for the sheet, without an ending: its lot.
func (s Sheet) Name() string { return s.Lot }
