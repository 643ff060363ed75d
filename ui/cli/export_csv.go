package cli

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

var readingColumns = []string{"time", "sg", "temperature_c", "ph", "ta_g_l", "free_so2_mg_l", "mass_kg", "level_l", "note"}

// exportCSV writes the readings of a batch, those of the journal and of a device, in the
// order of time.
func (a *app) exportCSV(cmd *cobra.Command, label, to string) error {
	at, err := a.find(label)
	if err != nil {
		return err
	}
	n := 0
	what := func() string { return at.batch.Name + ", " + readingsCount(n) }
	return a.output(cmd, to, func() string { return a.plain(what()) }, func(w io.Writer) error {
		n = 0
		out := csv.NewWriter(w)
		if err := out.Write(readingColumns); err != nil {
			return err
		}
		write := func(at time.Time, sg calc.SG, r model.Reading) error {
			n++
			return out.Write(readingCells(at, sg, r))
		}
		byHand := a.readByHand(at.batch)
		err := a.Cellars.Series(at.store.Path(), at.batch.ID, func(when time.Time, r model.Reading) error {
			for ; len(byHand) > 0 && byHand[0].At.Before(when); byHand = byHand[1:] {
				if err := write(byHand[0].At, byHand[0].SG, byHand[0].Body.(model.Reading)); err != nil {
					return err
				}
			}
			return write(when, r.Gravity, r)
		})
		if err != nil {
			return err
		}
		for _, l := range byHand {
			if err := write(l.At, l.SG, l.Body.(model.Reading)); err != nil {
				return err
			}
		}
		out.Flush()
		return out.Error()
	})
}

// readByHand returns the readings of the journal that count. One that could not be
// worked out has its gravity corrected as if it were in must.
func (a *app) readByHand(b model.Batch) []model.Told {
	var all []model.Told
	for _, l := range a.diary(b) {
		r, ok := l.Body.(model.Reading)
		if !ok || !l.Counts {
			continue
		}
		if l.SG == 0 && r.HasGravity() {
			l.SG, _ = r.Corrected(0)
		}
		all = append(all, l)
	}
	return all
}

func readingCells(at time.Time, sg calc.SG, r model.Reading) []string {
	cells := []string{at.UTC().Format(time.RFC3339), cell(float64(sg), r.HasGravity(), 5), cell(float64(r.Temperature), r.HasTemperature, 2),
		cell(r.PH, r.PH != 0, 3), cell(float64(r.Acid), r.Acid != 0, 3), cell(float64(r.FreeSO2), r.HasFreeSO2, 3),
		cell(float64(r.Mass)/1000, r.Mass != 0, 4), cell(float64(r.Level), r.Level != 0, 4), harmless(r.Note)}
	return cells
}

// cell writes a figure with at most so many decimals; nothing where there is none.
func cell(x float64, known bool, decimals int) string {
	if !known || math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	scale := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(x*scale)/scale, 'f', -1, 64)
}

// harmless keeps a spreadsheet from carrying out what somebody wrote in a note: text that
// begins like a formula gets the mark of plain text before it, also behind spaces.
func harmless(s string) string {
	if t := strings.TrimLeft(s, " \t\r\n\u00a0"); t != "" && strings.ContainsRune("=+-@＝＋－＠|%", []rune(t)[0]) {
		return "'" + s
	}
	return s
}
