package data

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
	"unicode"

	"cellar.local/glassrow/model"
)

// RowText returns the row with that id as its table holds it, the person's own before
// the printed one. An unknown id is an error that wraps
// model.ErrInvalid.
func (h Handbook) RowText(t model.Table, id string) (model.RowText, error) {
	table, err := tableOf(t)
	if err != nil {
		return nil, err
	}
	text, path, err := table.read(h.folder)
	if err != nil {
		return nil, err
	}
	for _, text := range []string{text, table.printed} {
		if strings.TrimSpace(text) == "" {
			continue
		}
		rows, err := readTable(text, table.columns)
		if err != nil {
			return nil, damaged(path, err)
		}
		for _, r := range rows {
			if r.text("id") == id {
				return model.RowText(r.cells), nil
			}
		}
	}
	return nil, fmt.Errorf("there is no row %q of %s: %w", id, t, model.ErrInvalid)
}

// Try reads a row as [Handbook.KeepRow] will, without a look at the other rows or at
// the disk. The error wraps model.ErrInvalid.
func (h Handbook) Try(t model.Table, row model.RowText) (model.Stuff, error) {
	r := tableRow{cells: row}
	if r.text("id") == "" {
		r.cells = withID(row, "new")
	}
	var s model.Stuff
	var err error
	table, err := tableOf(t)
	if err != nil {
		return s, err
	}
	for _, c := range table.columns {
		if err := r.printable(c); err != nil {
			return s, refused(t, err)
		}
	}
	if t == model.FruitTable {
		s.Fruit, err = r.fruit()
	} else {
		s.Sweetener, err = r.sweetener()
	}
	return s, refused(t, err)
}

// KeepRow writes an own row and returns the tables as they are then. A row with an id
// takes the place of the own row of that id, or of the printed one; without an id it
// is new, and is given one made of its name. The other rows of the file keep their
// text and their order. It is on disk when KeepRow returns.
//
// What is refused because of what it says wraps model.ErrInvalid: figures that cannot
// be, or a name that another row goes by. A file that is damaged is left as it is.
func (h Handbook) KeepRow(t model.Table, row model.RowText) (model.Larder, error) {
	return h.rewrite(t, func(table ownTable, text string) (string, error) {
		all, err := h.Larder()
		if err != nil {
			return "", err
		}
		row := withID(row, row["id"])
		rows := append(all.Rows(model.SweetenerTable), all.Rows(model.FruitTable)...)
		if row["id"] == "" {
			if row["id"], err = newID(row["name"], rows); err != nil {
				return "", err
			}
		}
		made, err := h.Try(t, row)
		if err != nil {
			return "", err
		}
		if err := free(made, rows); err != nil {
			return "", err
		}
		return table.with(text, row)
	})
}

// DropRow takes an own row away and returns the tables as they are then: what it
// covered comes back. A row that is not the person's own is refused with an error
// that wraps model.ErrInvalid.
func (h Handbook) DropRow(t model.Table, id string) (model.Larder, error) {
	return h.rewrite(t, func(table ownTable, text string) (string, error) {
		from, to, found, err := table.place(text, id)
		if err == nil && !found {
			err = fmt.Errorf("%q is not your own row; the rows of the handbook stay: %w", id, model.ErrInvalid)
		}
		if err != nil {
			return "", err
		}
		return text[:from] + text[to:], nil
	})
}

// withID returns a copy of the row, cells trimmed, with an id.
func withID(row model.RowText, id string) model.RowText {
	out := make(model.RowText, len(row)+1)
	for c, text := range row {
		out[c] = strings.TrimSpace(text)
	}
	out["id"] = id
	return out
}

// refused marks an error as being about what a person typed, in the words of the form.
func refused(t model.Table, err error) error {
	if err == nil || errors.Is(err, model.ErrInvalid) {
		return err
	}
	var slip rowError
	if errors.As(err, &slip) {
		return fmt.Errorf("%s: %s: %w", model.FieldOf(t, slip.column), slip.what, model.ErrInvalid)
	}
	return fmt.Errorf("%w: %w", err, model.ErrInvalid)
}

// newID makes an id of a name, as the tables have them: our_heather_honey.
func newID(name string, rows []model.Stuff) (string, error) {
	id := strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }), "_")
	if id == "" {
		return "", fmt.Errorf("name: it is empty: %w", model.ErrInvalid)
	}
	for _, s := range rows {
		if s.ID() == id {
			return "", taken(name, s)
		}
	}
	return id, nil
}

// free returns an error if another row goes by a name of the row.
func free(made model.Stuff, rows []model.Stuff) error {
	for _, s := range rows {
		if s.ID() == made.ID() {
			continue
		}
		if name, same := made.SharesName(s); same {
			return taken(name, s)
		}
	}
	return nil
}

func taken(name string, by model.Stuff) error {
	return fmt.Errorf("%q is the row %s already; edit that one, or use another name: %w", name, by.Name(), model.ErrInvalid)
}

// with returns the text of a table with row in it: in the place of the row with its
// id, or behind the others. Columns stand in the order the file has them.
func (t ownTable) with(text string, row model.RowText) (string, error) {
	newline := "\n"
	if strings.Contains(text, "\r\n") {
		newline = "\r\n"
	}
	if strings.TrimSpace(text) == "" {
		text = strings.Join(t.columns, ",") + newline
	}
	columns, err := t.header(text)
	if err != nil {
		return "", err
	}
	from, to, found, err := t.place(text, row["id"])
	if err != nil {
		return "", err
	}
	if !found {
		if from, to = len(text), len(text); !strings.HasSuffix(text, "\n") {
			text += newline
			from, to = len(text), len(text)
		}
	}
	line, err := csvLine(columns, row, newline == "\r\n")
	if err != nil {
		return "", err
	}
	return text[:from] + line + text[to:], nil
}

func csvLine(columns []string, row model.RowText, crlf bool) (string, error) {
	cells := make([]string, len(columns))
	for i, c := range columns {
		cells[i] = row[c]
	}
	if strings.HasPrefix(cells[0], "#") {
		return "", fmt.Errorf("%s: it cannot begin with #: %w", columns[0], model.ErrInvalid)
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.UseCRLF = crlf
	if err := w.Write(cells); err != nil {
		return "", err
	}
	w.Flush()
	return b.String(), w.Error()
}

// header returns the columns of a table in its order.
func (t ownTable) header(text string) ([]string, error) {
	columns, err := tableReader(text).Read()
	if err != nil {
		return nil, fmt.Errorf("the line that names the columns: %w", err)
	}
	return columns, sameColumns(columns, t.columns)
}

// place returns where in the text the row with that id stands, its line end included.
func (t ownTable) place(text, id string) (from, to int, found bool, err error) {
	if strings.TrimSpace(text) == "" {
		return 0, 0, false, nil
	}
	columns, err := t.header(text)
	if err != nil {
		return 0, 0, false, err
	}
	at := slices.Index(columns, "id")
	mark := len(text) - len(strings.TrimPrefix(text, byteOrderMark))
	in := tableReader(text)
	for {
		cells, err := in.Read()
		if err == io.EOF {
			return 0, 0, false, nil
		}
		if err != nil {
			return 0, 0, false, err
		}
		if strings.TrimSpace(cells[at]) == id {
			line, _ := in.FieldPos(0)
			return startOfLine(text, line), mark + int(in.InputOffset()), true, nil
		}
	}
}

// startOfLine returns where the n-th line begins, counted from 1.
func startOfLine(text string, n int) int {
	at := 0
	for ; n > 1; n-- {
		at += strings.IndexByte(text[at:], '\n') + 1
	}
	return at
}

// wrong returns what is wrong with the text of a whole own table; it may be empty.
func (t ownTable) wrong(text string) error {
	if strings.TrimSpace(text) == "" || t.bare(text) {
		return nil
	}
	return t.check(text)
}

// rewriteWithin is how long another session may take to write its own row.
const rewriteWithin = 3 * time.Second

// rewrite replaces the text of an own table by what change makes of it, one session
// after the other.
func (h Handbook) rewrite(t model.Table, change func(ownTable, string) (string, error)) (model.Larder, error) {
	none := model.Larder{}
	table, err := tableOf(t)
	if err != nil {
		return none, err
	}
	if h.folder == "" {
		return none, errors.New("no home directory is known to keep your own rows in; set HOME or XDG_DATA_HOME")
	}
	if err := os.MkdirAll(h.folder, 0o700); err != nil {
		return none, fmt.Errorf("the folder for your own rows: %w", err)
	}
	leave, err := h.alone()
	if err != nil {
		return none, err
	}
	defer leave()
	text, path, err := table.read(h.folder)
	if err != nil {
		return none, err
	}
	if err := table.wrong(text); err != nil {
		return none, damaged(path, err)
	}
	changed, err := change(table, text)
	if err != nil {
		return none, err
	}
	if err := table.wrong(changed); err != nil { // never leave what cannot be read again
		return none, refused(t, err)
	}
	if err := replaceFile(path, []byte(changed)); err != nil {
		return none, fmt.Errorf("write your own rows: %w", err)
	}
	return h.Larder()
}

// alone waits until no other session is writing own rows. Where there can be no
// lock, as on some network drives, it goes without.
func (h Handbook) alone() (leave func(), err error) {
	ctx, cancel := context.WithTimeout(context.Background(), rewriteWithin)
	defer cancel()
	gate := &turnstile{path: filepath.Join(h.folder, ".handbook.lock")}
	leave, err = gate.enter(ctx)
	switch {
	case errors.Is(err, ErrBusy):
		return nil, fmt.Errorf("another session is writing its own rows: %w", err)
	case err != nil:
		return func() {}, nil
	}
	return leave, nil
}

// replaceFile puts text in the place of a file in one step: who reads meanwhile sees
// the old text or the new, and so does who comes after a power cut. A link is
// followed, and the rights of the file are kept.
func replaceFile(path string, text []byte) error {
	rights := fs.FileMode(0o600)
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
		if info, err := os.Stat(path); err == nil {
			rights = info.Mode().Perm()
		}
	}
	return writeFile(path, text, true, rights)
}
