package data

import (
	"time"

	"cellar.local/glassrow/model"
)

// A cellar is carried from one file to another as JSON lines, one object a line:
//
//	{"format":"glassrow cellar","version":1,"vessels":…}  first: what it is and how much of each
//	{"settings":{…}}                     once
//	{"vessel":{"id":1,…}}                by id
//	{"batch":{"id":1,…}}                 by id, each followed by its journal
//	{"entry":{"batch":1,"id":1,"at":…,"recorded":…,"deed":…,"kind":"must","body":{…}}}
//	{"plan":{"batch":1,"name":…}}
//	{"recipe":{"name":…}}
//	{"row":{"table":"sweeteners","cells":{…}}}
//	{"readings":{"series":1,"at_ms":[…],"sg":[…],"temperature_c":[…]}}   up to 256 a line, by time
//	{"end":{"lines":…}}                  last: how many lines stood before it
//
// The records are those of the disk: SI, the unit in the key, times in UTC. What can be
// worked out again, the summaries, is not carried. Keys stay what they are for as long as
// the version does; a version grows whenever an older program would lose something.
const (
	carryFormat  = "glassrow cellar"
	carryVersion = 1
)

// What a file from a stranger may ask of us.
const (
	maxCarriedLine  = 4 << 20
	maxVessels      = 10_000
	maxBatches      = 100_000
	maxEntries      = 100_000 // of one batch, which is held in memory
	maxPlansRecipes = 100_000
	maxRows         = 10_000
	maxID           = 1 << 53 // larger ones do not survive other programs' JSON
	readingsPerLine = maxPagePoints
)

type carriedHead struct {
	Format  string `json:"format"`
	Version int    `json:"version"`
	countsRecord
}

type countsRecord struct {
	Vessels  int `json:"vessels"`
	Batches  int `json:"batches"`
	Entries  int `json:"entries"`
	Plans    int `json:"plans"`
	Recipes  int `json:"recipes"`
	Rows     int `json:"rows"`
	Readings int `json:"readings"`
}

// carriedLine is every other line: one of these.
type carriedLine struct {
	Settings *settingsRecord  `json:"settings,omitempty"`
	Vessel   *carriedVessel   `json:"vessel,omitempty"`
	Batch    *carriedBatch    `json:"batch,omitempty"`
	Entry    *carriedEntry    `json:"entry,omitempty"`
	Plan     *carriedPlan     `json:"plan,omitempty"`
	Recipe   *recipeRecord    `json:"recipe,omitempty"`
	Row      *carriedRow      `json:"row,omitempty"`
	Readings *carriedReadings `json:"readings,omitempty"`
	End      *carriedEnd      `json:"end,omitempty"`
}

type carriedVessel struct {
	ID uint64 `json:"id"`
	vesselRecord
}

type carriedBatch struct {
	ID uint64 `json:"id"`
	batchRecord
}

type carriedEntry struct {
	Batch uint64 `json:"batch"`
	ID    uint64 `json:"id"`
	entryRecord
}

type carriedPlan struct {
	Batch uint64 `json:"batch"`
	planRecord
}

// carriedRow is an own row of the handbook, its cells by column; empty ones are left out.
type carriedRow struct {
	Table string            `json:"table"`
	Cells map[string]string `json:"cells"`
}

// carriedReadings are points of a series, column by column. A temperature may be null.
type carriedReadings struct {
	Series      uint64     `json:"series"`
	At          []int64    `json:"at_ms"` // Unix time
	SG          []float64  `json:"sg"`
	Temperature []*float64 `json:"temperature_c"`
}

type carriedEnd struct {
	Lines int `json:"lines"`
}

func fromContents(c model.Contents) countsRecord {
	return countsRecord{c.Vessels, c.Batches, c.Entries, c.Plans, c.Recipes, c.Rows, c.Readings}
}

func toContents(r countsRecord) model.Contents {
	return model.Contents{Vessels: r.Vessels, Batches: r.Batches, Entries: r.Entries, Plans: r.Plans,
		Recipes: r.Recipes, Rows: r.Rows, Readings: r.Readings}
}

// Cellars is the files of whole cellars: what is done to one from outside, beside
// [Open] and [Create]. It holds nothing but the folder of the own rows of the handbook,
// which are carried with a cellar; no folder: there are none.
type Cellars struct{ own string }

// CellarsWith returns the files of cellars, and the folder of the own rows.
func CellarsWith(own string) Cellars { return Cellars{own} }

// carefulPatience is how long what is done to a whole file waits for other sessions.
const carefulPatience = 15 * time.Second
