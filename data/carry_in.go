package data

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

// linesPerCommit is how many lines go into one transaction of the draft: enough that
// syncing costs little, few enough that the memory for their pages stays small.
const linesPerCommit = 2000

// A lineError says what is wrong with a line of a file that is being imported. It wraps
// model.ErrInvalid.
type lineError struct {
	line int
	err  error
}

// Error implements error.
func (e lineError) Error() string { return fmt.Sprintf("line %d: %s", e.line, e.err) }

// Unwrap makes every complaint one about what the file says.
func (e lineError) Unwrap() []error { return []error{e.err, model.ErrInvalid} }

// An importer reads the lines of carry.go into a fresh cellar, and believes nothing in
// them. It holds one line, the rows, and the ids of vessels and batches.
type importer struct {
	in    *bufio.Reader
	own   Handbook
	line  int // of the file, from 1
	buf   []byte
	head  model.Contents
	seen  model.Contents
	ended bool

	settled bool // the settings have been read
	vessels map[model.VesselID]bool
	labels  map[string]bool
	batches map[model.BatchID]bool
	wanted  map[model.BatchID]int // batches that entries name, and the line that does
	recipes map[string]bool
	rows    []carriedRow

	lastVessel, batch, lastEntry uint64
	entries                      int // of the batch
	series                       uint64
	lastPoint                    seriesPoint
	deed                         uint64 // the highest
}

func newImporter(in io.Reader, own string) *importer {
	return &importer{
		in: bufio.NewReaderSize(in, 64<<10), own: HandbookIn(own),
		vessels: map[model.VesselID]bool{}, labels: map[string]bool{}, batches: map[model.BatchID]bool{},
		wanted: map[model.BatchID]int{}, recipes: map[string]bool{},
	}
}

// stage reads everything into the fresh database under h, which becomes a cellar.
func (im *importer) stage(h *handle, schema uint32) error {
	if err := im.readHead(); err != nil {
		return err
	}
	h.db.NoSync = true // it is nobody's yet; synced at the end
	if err := h.transact(writing, makeBuckets); err != nil {
		return err
	}
	for !im.ended {
		err := h.transact(writing, func(tx *bbolt.Tx) error {
			for n := 0; n < linesPerCommit && !im.ended; n++ {
				if err := im.next(tx); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	if err := im.complete(); err != nil {
		return err
	}
	err := h.transact(writing, func(tx *bbolt.Tx) error {
		if err := im.summarise(tx); err != nil {
			return err
		}
		return meta{schema: schema, revision: im.deed}.bump(tx) // later deeds get later numbers
	})
	if err != nil {
		return err
	}
	return h.db.Sync()
}

// makeBuckets makes the buckets that every cellar has.
func makeBuckets(tx *bbolt.Tx) error {
	for _, name := range [][]byte{settingsBucket, vesselsBucket, batchesBucket, entriesBucket, summariesBucket, readingsBucket, spellsBucket} {
		if _, err := tx.CreateBucketIfNotExists(name); err != nil {
			return err
		}
	}
	return nil
}

// wrong returns an error about the line being read.
func (im *importer) wrong(format string, args ...any) error {
	return lineError{im.line, fmt.Errorf(format, args...)}
}

// readLine returns the next line without its end; io.EOF after the last.
func (im *importer) readLine() ([]byte, error) {
	im.line++
	im.buf = im.buf[:0]
	for {
		part, err := im.in.ReadSlice('\n')
		if len(im.buf)+len(part) > maxCarriedLine {
			return nil, im.wrong("it is longer than %d bytes", maxCarriedLine)
		}
		im.buf = append(im.buf, part...)
		switch {
		case err == bufio.ErrBufferFull:
		case err == nil, err == io.EOF && len(im.buf) > 0:
			if !utf8.Valid(im.buf) {
				return nil, im.wrong("it is not UTF-8 text")
			}
			return bytes.TrimRight(im.buf, "\r\n"), nil
		case err == io.EOF:
			return nil, io.EOF
		default:
			return nil, fmt.Errorf("read line %d: %w", im.line, err)
		}
	}
}

// decode reads a line and tolerates nothing that it would lose.
func (im *importer) decode(line []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(line))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return im.wrong("%s", plainJSON(err))
	}
	if _, err := d.Token(); err != io.EOF {
		return im.wrong("there is more than one object")
	}
	return nil
}

// plainJSON puts what the JSON reader complains of into words.
func plainJSON(err error) string {
	var kind *json.UnmarshalTypeError
	switch field, unknown := strings.CutPrefix(err.Error(), "json: unknown field "); {
	case unknown:
		return "key " + field + " is not known; was this made by a newer glassrow?"
	case errors.As(err, &kind) && kind.Field != "":
		return fmt.Sprintf("%s cannot be %s", kind.Field, kind.Value)
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return "it is cut off"
	}
	return "not JSON as it should be: " + strings.TrimPrefix(err.Error(), "json: ")
}

// readHead reads the first line.
func (im *importer) readHead() error {
	line, err := im.readLine()
	if err == io.EOF {
		return im.wrong("the file is empty")
	}
	var strange lineError // not text, or without end: no export either
	if err != nil && !errors.As(err, &strange) {
		return err
	}
	var first struct {
		Format  string `json:"format"`
		Version int    `json:"version"`
	}
	if err != nil || json.Unmarshal(line, &first) != nil || first.Format != carryFormat {
		return im.wrong("this is no export of a cellar, which begins with {\"format\":%q; a copy that glassrow backup made comes back with glassrow restore", carryFormat)
	}
	if first.Version > carryVersion {
		return lineError{im.line, fmt.Errorf("%w: the export is of version %d, this program knows up to %d", ErrNewer, first.Version, carryVersion)}
	}
	if first.Version < 1 {
		return im.wrong("there is no version %d", first.Version)
	}
	var head carriedHead
	if err := im.decode(line, &head); err != nil {
		return err
	}
	im.head = toContents(head.countsRecord)
	return nil
}

// next reads one line into the draft.
func (im *importer) next(tx *bbolt.Tx) error {
	line, err := im.readLine()
	if err == io.EOF {
		im.line--
		return im.wrong("the file ends here, before its last line, with %s out of %s; export it again, or fetch the whole file", im.seen, im.head)
	}
	if err != nil {
		return err
	}
	var l carriedLine
	if err := im.decode(line, &l); err != nil {
		return err
	}
	if n := l.objects(); n != 1 {
		return im.wrong("there are %d records on it, want one", n)
	}
	if err := im.take(tx, l); err != nil {
		var told lineError
		if errors.As(err, &told) || !errors.Is(err, model.ErrInvalid) && !errors.Is(err, ErrDamaged) {
			return err
		}
		return lineError{im.line, plainDamage(err)}
	}
	return nil
}

// plainDamage drops what a damaged cellar is to do about it: this is another file.
func plainDamage(err error) error {
	return errors.New(strings.ReplaceAll(err.Error(), ErrDamaged.Error()+": ", ""))
}

func (l carriedLine) objects() int {
	n := 0
	for _, there := range []bool{l.Settings != nil, l.Vessel != nil, l.Batch != nil, l.Entry != nil,
		l.Plan != nil, l.Recipe != nil, l.Row != nil, l.Readings != nil, l.End != nil} {
		if there {
			n++
		}
	}
	return n
}

// take writes what a line says.
func (im *importer) take(tx *bbolt.Tx, l carriedLine) error {
	switch {
	case l.Settings != nil:
		return im.takeSettings(tx, *l.Settings)
	case l.Vessel != nil:
		return im.takeVessel(tx, *l.Vessel)
	case l.Batch != nil:
		return im.takeBatch(tx, *l.Batch)
	case l.Entry != nil:
		return im.takeEntry(tx, *l.Entry)
	case l.Plan != nil:
		return im.takePlan(tx, *l.Plan)
	case l.Recipe != nil:
		return im.takeRecipe(tx, *l.Recipe)
	case l.Row != nil:
		return im.takeRow(*l.Row)
	case l.Readings != nil:
		return im.takeReadings(tx, *l.Readings)
	}
	return im.takeEnd(*l.End)
}

// takeEnd reads the last line.
func (im *importer) takeEnd(e carriedEnd) error {
	if e.Lines != im.line-1 {
		return im.wrong("%d lines stand before the last, it says %d; the file is not whole, export it again", im.line-1, e.Lines)
	}
	im.ended = true
	for {
		line, err := im.readLine()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		if len(bytes.TrimSpace(line)) > 0 {
			return im.wrong("there is more after the last line")
		}
	}
}

// complete compares what was there with what the first line promised.
func (im *importer) complete() error {
	if im.seen != im.head {
		return fmt.Errorf("the file holds %s, its first line says %s; it is not whole, export it again: %w", im.seen, im.head, model.ErrInvalid)
	}
	if !im.settled {
		return fmt.Errorf("the file has no settings; it is not whole, export it again: %w", model.ErrInvalid)
	}
	for id, line := range im.wanted {
		if !im.batches[id] {
			return lineError{line, fmt.Errorf("it names batch %d, which is not in the file", id)}
		}
	}
	return nil
}

// summarise writes the summary of every batch, and refuses two in one vessel.
func (im *importer) summarise(tx *bbolt.Tx) error {
	in := make(map[model.VesselID]string)
	return eachRecord(tx, batchesBucket, func(id uint64, _ batchRecord) error {
		b, err := batchIn(tx, model.BatchID(id))
		if err != nil {
			return err
		}
		sum := summaryOf(b)
		if sum.Vessel != 0 {
			if other, full := in[sum.Vessel]; full {
				return fmt.Errorf("the file has %s and %s in one vessel: %w", other, b.Name, model.ErrInvalid)
			}
			in[sum.Vessel] = b.Name
		}
		return putRecord(tx, summariesBucket, idKey(id), fromSummary(sum))
	})
}

// summaryOf returns what is kept of a batch, its outlook included.
func summaryOf(b model.Batch) model.Summary {
	sum := model.Summarise(b)
	if b.Undone() || sum.Problem != "" {
		return sum
	}
	return sum.Foreseen(b)
}
