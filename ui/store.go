// Package ui is everything a person sees of glassrow: the dashboard in this
// package, the one-shot commands in ui/cli. It turns keys into journal entries
// and journals into screens; it holds no formula and never touches a file.
package ui

import (
	"time"

	"cellar.local/glassrow/model"
)

// Store is the cellar as the screen needs it. Every method is one transaction
// and may be called from any goroutine. What a write returns is on disk.
//
// Errors are for people: they name the file and what to do. A write that is
// refused because of what it says wraps model.ErrInvalid.
type Store interface {
	// Path names the cellar for people: the file, as an absolute path.
	Path() string

	// Revision returns a number that grows with every write by any session. It
	// is cheap enough to ask every second.
	Revision() (uint64, error)

	// Shelf returns the vessels, the settings and a summary of every batch.
	Shelf() (model.Shelf, error)

	// Batch returns a batch with its whole journal.
	Batch(model.BatchID) (model.Batch, error)

	// AddVessel stores a vessel and returns it with its id. A label already on
	// another vessel is refused.
	AddVessel(model.Vessel) (model.Vessel, error)

	// ChangeVessel replaces what is known of a vessel: its tare, its place, what it
	// holds. There must be one of that id; a label of another is refused.
	ChangeVessel(model.Vessel) error

	// StartBatch stores a batch with its first entries and returns it as stored.
	// A vessel that holds another batch is refused.
	StartBatch(model.Batch) (model.Batch, error)

	// Append adds entries to a journal, numbers them, and returns the batch as
	// stored. Entries that the journal so far makes impossible are refused, and
	// then none is added.
	Append(model.BatchID, ...model.Entry) (model.Batch, error)

	// Write adds to several journals at once, as one deed, and returns the batches as
	// stored, in the order of the writings. A writing with no batch begins one, split
	// off another.
	Write(...model.Writing) ([]model.Batch, error)

	// Undo strikes out what was written last of a batch and still counts, with all
	// that was written together with it, in other batches too. It returns the batches
	// that changed, that one first.
	Undo(id model.BatchID, at time.Time, reason string) ([]model.Batch, error)

	// Record adds readings of devices to the series of their batches, all or none. A
	// moment that has a reading already keeps it.
	Record(...model.DeviceReadings) ([]model.Taken, error)

	// Plans returns the plans kept for a batch, by name.
	Plans(model.BatchID) ([]model.Plan, error)

	// KeepPlan keeps a plan for a batch; one of the same name is replaced. Plans are
	// no part of the journal.
	KeepPlan(model.BatchID, model.Plan) error

	// DropPlan discards the plan of that name without trace. There need not be one.
	DropPlan(model.BatchID, string) error

	// Recipes returns the person's recipes, by name.
	Recipes() ([]model.Recipe, error)

	// KeepRecipe keeps a recipe under its name; one of the same name is replaced.
	KeepRecipe(model.Recipe) error

	// DropRecipe discards the recipe of that name without trace. There need not be
	// one.
	DropRecipe(name string) error

	// SaveSettings replaces the person's settings.
	SaveSettings(model.Settings) error
}

// Handbook is the tables of sweeteners and fruit, the person's own rows over the
// printed ones. Every method but Try reads files, and may be called from any
// goroutine. What a write returns is on disk.
//
// Errors are for people: they name the file, the row and what to do. A row that is
// refused because of what it says wraps model.ErrInvalid.
type Handbook interface {
	// Larder returns both tables as they are now, own rows first.
	Larder() (model.Larder, error)

	// RowText returns the row with that id as its table holds it, to be edited.
	RowText(model.Table, string) (model.RowText, error)

	// Try reads a row as it would be kept. It touches no file, so that it can be
	// asked with every key.
	Try(model.Table, model.RowText) (model.Stuff, error)

	// KeepRow writes an own row and returns the tables with it. An id puts it in the
	// place of the row of that id; without one it is new.
	KeepRow(model.Table, model.RowText) (model.Larder, error)

	// DropRow takes an own row away and returns the tables without it.
	DropRow(model.Table, string) (model.Larder, error)
}
