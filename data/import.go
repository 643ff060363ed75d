package data

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

// Import reads what [Cellars.Export] wrote into the cellar at path, which is made if
// there is none: all of it or nothing. A cellar that has content is refused unless add is
// set; then what it lacks is added, see [merge]. Own rows of the handbook that are
// missing are added too; those that are there stay as they are.
//
// The lines are read into a file beside the cellar first, without a lock, so a slow
// source or a wrong line on the last of many costs nobody anything. An error about what a
// line says names the line and wraps model.ErrInvalid.
func (c Cellars) Import(path string, in io.Reader, add bool) (model.Imported, error) {
	var done model.Imported
	path, err := filepath.Abs(path)
	if err != nil {
		return done, err
	}
	f := newBoltFile(path, boltOptions{migrations: migrations, patience: carefulPatience})
	if err := f.view(vacantFor(add)); err != nil && !notThere(err) {
		return done, err
	}
	draft, err := draftBeside(path)
	defer removeQuietly(draft)
	if err != nil {
		return done, describe("import into", path, writing, err)
	}
	im := newImporter(in, c.own)
	if err := im.fill(draft, f.schema()); err != nil {
		return done, err
	}
	rows, err := c.missingRows(im.rows, &done)
	if err != nil {
		return done, err
	}
	if err := f.takeOver(draft, im, add, &done); err != nil {
		return done, err
	}
	if err := c.keepRows(rows); err != nil {
		return done, fmt.Errorf("the cellar is imported, but not all own rows of the handbook are: %w", err)
	}
	return done, nil
}

// ImportFile is [Cellars.Import] from a file.
func (c Cellars) ImportFile(path, from string, add bool) (model.Imported, error) {
	in, err := os.Open(from)
	if err != nil {
		return model.Imported{}, plainPathError("read", from, err)
	}
	defer in.Close()
	return c.Import(path, in, add)
}

// fill reads all lines into the draft.
func (im *importer) fill(draft string, schema uint32) error {
	if err := makeMeta(draft, schema); err != nil {
		return err
	}
	h, err := openDraft(draft, writing)
	if err != nil {
		return err
	}
	defer h.close()
	return im.stage(h, schema)
}

// makeMeta marks a fresh database as a cellar.
func makeMeta(draft string, schema uint32) error {
	h, err := openDraft(draft, writing)
	if err != nil {
		return err
	}
	defer h.close()
	return h.transact(writing, func(tx *bbolt.Tx) error { return meta{schema: schema}.bump(tx) })
}

// takeOver makes the draft the cellar, or adds it to the one that is there.
func (f *boltFile) takeOver(draft string, im *importer, add bool, done *model.Imported) error {
	err := f.replace(draft, "", vacantFor(false))
	if err == nil {
		rows := done.Added.Rows
		done.Added = im.seen
		done.Added.Rows = rows
		return nil
	}
	if !errors.Is(err, errFull) || !add {
		return err
	}
	h, err := openDraft(draft, reading)
	if err != nil {
		return err
	}
	defer h.close()
	return f.update(func(tx *bbolt.Tx) error {
		return h.transact(reading, func(from *bbolt.Tx) error {
			m := newMerge(from, tx)
			m.done = *done
			if err := m.run(); err != nil {
				return err
			}
			*done = m.done
			return nil
		})
	})
}

// errFull is wrapped by the refusal of a cellar that has content.
var errFull = errors.New("with --add what is missing is added to it, or name another with --cellar")

// vacantFor returns what refuses a cellar that has content, unless that may be.
func vacantFor(add bool) func(*bbolt.Tx) error {
	return func(tx *bbolt.Tx) error {
		if add {
			return nil
		}
		c, err := contentsOf(tx)
		if err != nil || c.Empty() {
			return err
		}
		return fmt.Errorf("the cellar %s already holds %s; %w", tx.DB().Path(), c, errFull)
	}
}

// missingRows returns the rows that are not in the own tables yet.
func (c Cellars) missingRows(rows []carriedRow, done *model.Imported) ([]carriedRow, error) {
	if len(rows) == 0 {
		return nil, nil
	}
	there, err := c.carriedRows()
	if err != nil {
		return nil, err
	}
	type id struct{ table, id string }
	own := make(map[id]carriedRow, len(there))
	for _, r := range there {
		own[id{r.Table, r.Cells["id"]}] = r
	}
	var missing []carriedRow
	for _, r := range rows {
		here, taken := own[id{r.Table, r.Cells["id"]}]
		if !taken {
			missing = append(missing, r)
			continue
		}
		done.Left.Rows++
		if !sameCells(here.Cells, r.Cells) {
			done.Remarks = append(done.Remarks, fmt.Sprintf("your own row %q has other figures in the file; yours is left as it is", r.Cells["id"]))
		}
	}
	done.Added.Rows = len(missing)
	if c.own == "" && len(missing) > 0 {
		return nil, errors.New("no home directory is known to keep own rows of the handbook in; set HOME or XDG_DATA_HOME")
	}
	return missing, nil
}

func sameCells(x, y map[string]string) bool {
	if len(x) != len(y) {
		return false
	}
	for column, cell := range x {
		if y[column] != cell {
			return false
		}
	}
	return true
}

// keepRows writes own rows, one after the other.
func (c Cellars) keepRows(rows []carriedRow) error {
	var errs []error
	for _, r := range rows {
		if _, err := HandbookIn(c.own).KeepRow(model.Table(r.Table), r.Cells); err != nil {
			errs = append(errs, fmt.Errorf("%q: %w", r.Cells["id"], err))
		}
	}
	return errors.Join(errs...)
}
