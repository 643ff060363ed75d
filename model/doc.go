// Package model is what glassrow is about, without a screen or a disk: the
// cellar, its vessels, the batches in them and the journal of each batch.
//
// A batch is its journal. Entries are only ever added; a correction is a new
// entry and an undo is an entry that voids another. [Replay] turns a journal
// into what the batch is at a moment: its liquid, its curve, its standing.
//
// The package does no I/O and has no clock: the time comes in as an argument.
// It knows no formula either; every question about sugar, alcohol or density
// goes to package calc.
package model
