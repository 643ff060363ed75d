package data

import (
	"bufio"
	"cmp"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"time"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

// Export writes the whole cellar at path to w, as one moment saw it, and the own rows of
// the handbook; see carry.go for the lines. Two exports of cellars with the same content
// are the same bytes. It reads from a copy, so that a pipe nobody empties keeps no
// session from writing, and holds one batch's line in memory at a time.
func (c Cellars) Export(path string, w io.Writer) (model.Contents, error) {
	s, err := Open(path)
	if err != nil {
		return model.Contents{}, err
	}
	rows, err := c.carriedRows()
	if err != nil {
		return model.Contents{}, err
	}
	s.file.patience = carefulPatience
	var contents model.Contents
	err = s.file.snapshot(func(h *handle) error {
		return h.transact(reading, func(tx *bbolt.Tx) error {
			if contents, err = contentsOf(tx); err != nil {
				return err
			}
			contents.Rows = len(rows)
			return writeCarried(tx, w, contents, rows)
		})
	})
	return contents, err
}

// WriteFile writes a file for the person alone, whole or not at all, from what fill
// writes; it may be larger than memory. Unless over is set a file that is there is left
// alone and the error wraps [fs.ErrExist]. An error of fill comes back as it is.
func (c Cellars) WriteFile(to string, over bool, fill func(io.Writer) error) error {
	var told error
	err := writeFileFrom(to, over, 0o600, func(w io.Writer) error {
		told = fill(w)
		return told
	})
	if told != nil {
		return told
	}
	return plainPathError("write", to, err)
}

// Series visits the readings that a device made of a batch, in order of time, from a
// copy of the cellar. It ends with the first error of visit.
func (c Cellars) Series(path string, id model.BatchID, visit func(at time.Time, r model.Reading) error) error {
	s, err := Open(path)
	if err != nil {
		return err
	}
	s.file.patience = carefulPatience
	return s.file.snapshot(func(h *handle) error {
		return h.transact(reading, func(tx *bbolt.Tx) error {
			b, err := bucket(tx, readingsBucket)
			if err != nil {
				return err
			}
			var stopped error
			err = scanSeries(b, uint64(id), math.MinInt64, math.MaxInt64, func(p seriesPoint) bool {
				d := toDevice(p)
				stopped = visit(d.At, d.Reading())
				return stopped == nil
			})
			return cmp.Or(stopped, err)
		})
	})
}

// writeCarried writes the lines.
func writeCarried(tx *bbolt.Tx, to io.Writer, contents model.Contents, rows []carriedRow) error {
	w := bufio.NewWriterSize(to, 64<<10)
	lines := 0
	write := func(line any) error {
		b, err := json.Marshal(line)
		if err != nil {
			return err
		}
		lines++
		_, err = w.Write(append(b, '\n'))
		return err
	}
	err := write(carriedHead{carryFormat, carryVersion, fromContents(contents)})
	if err == nil {
		err = eachCarried(tx, func(l carriedLine) error { return write(l) })
	}
	for i := 0; err == nil && i < len(rows); i++ {
		err = write(carriedLine{Row: &rows[i]})
	}
	if err == nil {
		err = eachSeriesLine(tx, func(r carriedReadings) error { return write(carriedLine{Readings: &r}) })
	}
	if err == nil {
		err = write(carriedLine{End: &carriedEnd{lines}})
	}
	if err != nil {
		return err
	}
	return w.Flush()
}

// contentsOf counts what is in a cellar.
func contentsOf(tx *bbolt.Tx) (model.Contents, error) {
	var c model.Contents
	err := eachCarried(tx, func(l carriedLine) error {
		switch {
		case l.Vessel != nil:
			c.Vessels++
		case l.Batch != nil:
			c.Batches++
		case l.Entry != nil:
			c.Entries++
		case l.Plan != nil:
			c.Plans++
		case l.Recipe != nil:
			c.Recipes++
		}
		return nil
	})
	if err != nil {
		return c, err
	}
	return c, eachSeriesLine(tx, func(r carriedReadings) error {
		c.Readings += len(r.At)
		return nil
	})
}

// eachCarried visits what lies in the cellar but for series, in the order of the lines.
func eachCarried(tx *bbolt.Tx, visit func(carriedLine) error) error {
	var set settingsRecord
	if _, err := getRecord(tx, settingsBucket, settingsKey, &set); err != nil {
		return err
	}
	if err := visit(carriedLine{Settings: &set}); err != nil {
		return err
	}
	err := eachRecord(tx, vesselsBucket, func(id uint64, r vesselRecord) error {
		return visit(carriedLine{Vessel: &carriedVessel{id, r}})
	})
	if err != nil {
		return err
	}
	err = eachRecord(tx, batchesBucket, func(id uint64, r batchRecord) error {
		if err := visit(carriedLine{Batch: &carriedBatch{id, r}}); err != nil {
			return err
		}
		return eachEntry(tx, id, func(e uint64, r entryRecord) error {
			return visit(carriedLine{Entry: &carriedEntry{id, e, r}})
		})
	})
	if err != nil {
		return err
	}
	if err := eachPlan(tx, func(batch uint64, r planRecord) error {
		return visit(carriedLine{Plan: &carriedPlan{batch, r}})
	}); err != nil {
		return err
	}
	return eachRecipe(tx, func(r recipeRecord) error { return visit(carriedLine{Recipe: &r}) })
}

// eachEntry visits the journal of a batch.
func eachEntry(tx *bbolt.Tx, batch uint64, visit func(id uint64, r entryRecord) error) error {
	b, err := bucket(tx, entriesBucket)
	if err != nil {
		return err
	}
	prefix := string(idKey(batch))
	c := b.Cursor()
	for k, v := c.Seek([]byte(prefix)); strings.HasPrefix(string(k), prefix); k, v = c.Next() {
		if len(k) != 16 {
			return fmt.Errorf("%w: %s has a key %x", ErrDamaged, entriesBucket, k)
		}
		var r entryRecord
		if err := unmarshal(entriesBucket, k, v, &r); err != nil {
			return err
		}
		if err := visit(binary.BigEndian.Uint64(k[8:]), r); err != nil {
			return err
		}
	}
	return nil
}

// eachPlan visits the plans of every batch; there need be none.
func eachPlan(tx *bbolt.Tx, visit func(batch uint64, r planRecord) error) error {
	b := tx.Bucket(plansBucket)
	if b == nil {
		return nil
	}
	return b.ForEach(func(k, v []byte) error {
		if len(k) < 8 {
			return fmt.Errorf("%w: %s has a key %x", ErrDamaged, plansBucket, k)
		}
		var r planRecord
		if err := unmarshal(plansBucket, k, v, &r); err != nil {
			return err
		}
		return visit(binary.BigEndian.Uint64(k), r)
	})
}

// eachRecipe visits the recipes; there need be none.
func eachRecipe(tx *bbolt.Tx, visit func(recipeRecord) error) error {
	b := tx.Bucket(recipesBucket)
	if b == nil {
		return nil
	}
	return b.ForEach(func(k, v []byte) error {
		var r recipeRecord
		if err := unmarshal(recipesBucket, k, v, &r); err != nil {
			return err
		}
		return visit(r)
	})
}

// eachSeriesLine visits the points of all series, as many at a time as a line carries.
// How they were spread over pages does not show.
func eachSeriesLine(tx *bbolt.Tx, visit func(carriedReadings) error) error {
	b, err := bucket(tx, readingsBucket)
	if err != nil {
		return err
	}
	var line carriedReadings
	flush := func() error {
		if len(line.At) == 0 {
			return nil
		}
		full := line
		line = carriedReadings{Series: line.Series}
		return visit(full)
	}
	var points []seriesPoint
	err = b.ForEach(func(k, v []byte) error {
		id, _, err := splitKey(k)
		if err != nil {
			return err
		}
		if id != line.Series {
			if err := flush(); err != nil {
				return err
			}
			line.Series = id
		}
		if points, err = decodePage(points[:0], k, v); err != nil {
			return err
		}
		for _, p := range points {
			line.add(p)
			if len(line.At) < readingsPerLine {
				continue
			}
			if err := flush(); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	return flush()
}

func (r *carriedReadings) add(p seriesPoint) {
	r.At = append(r.At, p.AtMS)
	d := toDevice(p)
	r.SG = append(r.SG, float64(d.Gravity))
	var temp *float64
	if d.HasTemperature {
		t := float64(d.Temperature)
		temp = &t
	}
	r.Temperature = append(r.Temperature, temp)
}

// carriedRows returns the own rows of both tables, in the order of their files.
func (c Cellars) carriedRows() ([]carriedRow, error) {
	var all []carriedRow
	for _, name := range []model.Table{model.SweetenerTable, model.FruitTable} {
		t, err := tableOf(name)
		if err != nil {
			return nil, err
		}
		text, path, err := t.read(c.own)
		if err != nil {
			return nil, err
		}
		if strings.TrimSpace(text) == "" {
			continue
		}
		rows, err := readTable(text, t.columns)
		if err != nil {
			return nil, damaged(path, err)
		}
		for _, r := range rows {
			cells := make(map[string]string, len(r.cells))
			for column, cell := range r.cells {
				if cell != "" {
					cells[column] = cell
				}
			}
			all = append(all, carriedRow{string(name), cells})
		}
	}
	return all, nil
}

// removeQuietly takes a draft away that is of no more use.
func removeQuietly(draft string) {
	if draft != "" {
		_ = os.Remove(draft)
	}
}
