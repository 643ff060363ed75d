package cli

import (
	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
)

// wrote tells of a batch, as stored, after something was written about it: the lines
// given, or with --json what all such commands tell.
func (a *app) wrote(cmd *cobra.Command, at spot, stored model.Batch, lines ...string) error {
	if !on(cmd, "json") {
		return a.show(joinLines(lines))
	}
	at.batch = stored
	after, err := a.stateNow(stored)
	if err != nil {
		return err
	}
	return a.showJSON(a.newLifeJSON(at, after))
}

// struckJSON is what was struck out of journals, or brought back, and what the batches
// are then.
type struckJSON struct {
	Back    bool           `json:"brought_back"`
	Entries []turnedJSON   `json:"entries"`
	Batches []batchNowJSON `json:"batches"`
}

// turnedJSON is an entry that was struck out or brought back.
type turnedJSON struct {
	Batch uint64 `json:"batch"`
	Entry uint64 `json:"entry"`
	Text  string `json:"text"`
}

// batchNowJSON is a batch after a strike. One that was split off and undone is none any
// more.
type batchNowJSON struct {
	Batch  uint64    `json:"batch"`
	Undone bool      `json:"undone"`
	Now    *lifeJSON `json:"now"` // null: the journal cannot be worked out, or undone
}

func (s *struckJSON) add(id model.BatchID, entries []model.Entry, tell func(model.Body) string) {
	for _, e := range entries {
		s.Entries = append(s.Entries, turnedJSON{uint64(id), uint64(e.ID), tell(e.Body)})
	}
}

// become tells what a batch is after the strike.
func (a *app) become(s *struckJSON, at spot, stored model.Batch) {
	now := batchNowJSON{Batch: uint64(stored.ID), Undone: stored.Undone()}
	if state, err := a.stateNow(stored); err == nil && !now.Undone {
		at.batch, at.vessel = stored, vesselOf(at.shelf, model.Summarise(stored))
		l := a.newLifeJSON(at, state)
		now.Now = &l
	}
	s.Batches = append(s.Batches, now)
}

// contentsJSON counts what is in a cellar; the fields are those of [model.Contents].
type contentsJSON struct {
	Vessels  int `json:"vessels"`
	Batches  int `json:"batches"`
	Entries  int `json:"entries"`
	Plans    int `json:"plans"`
	Recipes  int `json:"recipes"`
	Rows     int `json:"own_rows"`
	Readings int `json:"device_readings"`
}
