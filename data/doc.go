// Package data is everything that touches bytes: the cellar file, what is
// written in it and how several sessions share it.
//
// It knows files, locks, transactions and layouts. It refuses to know screens,
// units as people type them, and what a reading means.
//
// The room has two floors. The lower one, [boltFile] and the packed series,
// knows nothing of vessels or batches: it lends out one transaction at a time
// and promises that an acknowledged write survives a kill, a power cut and
// other sessions. The upper one puts the cellar's nouns into that file.
package data
