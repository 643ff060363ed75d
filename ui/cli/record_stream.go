package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/words"
)

// How what a device says is written: so many lines at once, for a file, and what there
// is every so often, for a pipe that stays open.
const (
	flushLines  = 5000
	flushEvery  = time.Second
	longestLine = 1000 // bytes
)

// stream writes lines of a device into the cellar.
type stream struct {
	app   *app
	store ui.Store
	shelf model.Shelf
	say   words.Words

	found   map[string]whose // by the name in the lines
	waiting []model.DeviceReadings
	held    int // readings that wait
	told    []toldOf
	lines   int
	bad     int
}

// whose is a batch that lines are about; or why there is none.
type whose struct {
	batch model.Summary
	label string
	err   error
}

// toldOf is what became of the lines about a batch.
type toldOf struct {
	label, name string
	model.Taken
}

// recordStream records what comes on standard input until it ends.
func (a *app) recordStream(cmd *cobra.Command) error {
	store, shelf, err := a.open()
	if err != nil {
		return err
	}
	s := &stream{app: a, store: store, shelf: shelf, say: a.words(shelf.Settings), found: make(map[string]whose)}
	failed := s.run(a.In)
	if on(cmd, "json") {
		err = a.showJSON(s.json())
	} else {
		err = a.show(s.text())
	}
	return errors.Join(failed, err)
}

// inputLine is a line as it came; long when it was cut off.
type inputLine struct {
	text string
	long bool
	err  error // reading ended in this
}

// run takes lines until there are no more. What it has taken is written even when
// reading fails; what is refused is told at once.
func (s *stream) run(in io.Reader) error {
	lines := make(chan inputLine, 256)
	go readLines(in, lines)
	ticks := time.NewTicker(flushEvery)
	defer ticks.Stop()
	for {
		select {
		case l, more := <-lines:
			if !more {
				return s.end(nil)
			}
			if l.err != nil {
				return s.end(fmt.Errorf("read standard input: %w", l.err))
			}
			s.take(l)
			if s.held < flushLines {
				continue
			}
		case <-ticks.C:
			clear(s.found) // a vessel may hold another batch by now
		}
		if err := s.flush(); err != nil {
			return err
		}
	}
}

// readLines sends each line, without its end, and closes the channel.
func readLines(in io.Reader, lines chan<- inputLine) {
	defer close(lines)
	r := bufio.NewReaderSize(in, longestLine+2)
	for {
		text, long, err := readLine(r)
		if text != "" || long {
			lines <- inputLine{text: text, long: long}
		} else if err == nil {
			lines <- inputLine{} // an empty line counts
		}
		if err == io.EOF {
			return
		}
		if err != nil {
			lines <- inputLine{err: err}
			return
		}
	}
}

// readLine reads a line; what does not fit the buffer is dropped.
func readLine(r *bufio.Reader) (text string, long bool, err error) {
	part, err := r.ReadSlice('\n')
	text = string(part)
	for err == bufio.ErrBufferFull {
		long = true
		_, err = r.ReadSlice('\n')
	}
	return strings.TrimRight(text, "\r\n"), long, err
}

// take understands a line and keeps it for the next write.
func (s *stream) take(l inputLine) {
	s.lines++
	text := l.text
	if s.lines == 1 {
		text = strings.TrimPrefix(text, "\ufeff")
	}
	if t := strings.TrimSpace(text); !l.long && (t == "" || strings.HasPrefix(t, "#") || s.lines == 1 && isDeviceHeading(text)) {
		return
	}
	if err := s.keep(text, l.long); err != nil {
		s.bad++
		s.app.caution(s.say, fmt.Sprintf("line %d: %s", s.lines, words.PlainError(err)))
	}
}

func (s *stream) keep(text string, long bool) error {
	if long {
		return fmt.Errorf("it is longer than %d characters", longestLine)
	}
	d, err := parseDeviceLine(text, s.app.Now())
	if err != nil {
		return err
	}
	of := s.whose(d.name)
	switch {
	case of.err != nil:
		return of.err
	case d.reading.At.Before(of.batch.Started):
		return fmt.Errorf("%s was begun later, on %s; name the batch that was in %s then", of.batch.Name, moment(of.batch.Started, s.app.Now()), of.label)
	}
	i := slices.IndexFunc(s.waiting, func(w model.DeviceReadings) bool { return w.Batch == of.batch.Batch })
	if i < 0 {
		i, s.waiting = len(s.waiting), append(s.waiting, model.DeviceReadings{Batch: of.batch.Batch})
	}
	s.waiting[i].Readings = append(s.waiting[i].Readings, d.reading)
	s.held++
	return nil
}

// whose finds the batch of a name, looking at the cellar afresh where it is not known.
func (s *stream) whose(name string) whose {
	if of, ok := s.found[name]; ok {
		return of
	}
	var of whose
	if len(s.found) == 0 {
		shelf, err := s.store.Shelf()
		if err != nil {
			return whose{err: err}
		}
		s.shelf = shelf
	}
	var v model.Vessel
	of.batch, v, of.err = locate(s.store, s.shelf, name)
	of.label = v.Label
	s.found[name] = of
	return of
}

// flush writes what waits, in one transaction.
func (s *stream) flush() error {
	if s.held == 0 {
		return nil
	}
	taken, err := s.store.Record(s.waiting...)
	if err != nil {
		return err
	}
	s.waiting, s.held = nil, 0
	for _, t := range taken {
		s.count(t)
	}
	return nil
}

func (s *stream) count(t model.Taken) {
	i := slices.IndexFunc(s.told, func(was toldOf) bool { return was.Batch == t.Batch })
	if i < 0 {
		one := toldOf{Taken: model.Taken{Batch: t.Batch}}
		for _, sum := range s.shelf.Batches {
			if sum.Batch == t.Batch {
				one.label, one.name = vesselOf(s.shelf, sum).Label, sum.Name
			}
		}
		i, s.told = len(s.told), append(s.told, one)
	}
	s.told[i].Added += t.Added
	s.told[i].There += t.There
	s.told[i].Other += t.Other
}

// end writes the rest, and says whether all was well.
func (s *stream) end(failed error) error {
	if err := s.flush(); err != nil {
		return errors.Join(failed, err)
	}
	if failed == nil && s.bad > 0 {
		return fmt.Errorf("%s not understood of %d; the others are written", words.Count(s.bad, "line was", "lines were"), s.lines)
	}
	return failed
}

func (s *stream) text() string {
	if len(s.told) == 0 {
		return "Nothing recorded\n"
	}
	out := make([]string, len(s.told))
	for i, t := range s.told {
		out[i] = fmt.Sprintf("%s %s: %s", s.say.Text(t.label), s.say.Text(t.name), words.Count(t.Added, "new reading", "new readings"))
		if t.There > 0 {
			out[i] += fmt.Sprintf(", %d there already", t.There)
		}
		if t.Other > 0 {
			out[i] += fmt.Sprintf(", %d of them with another gravity, which stays", t.Other)
		}
	}
	return joinLines(out)
}

type streamJSON struct {
	Lines   int        `json:"lines"`
	Bad     int        `json:"bad"`
	Batches []toldJSON `json:"batches"`
}

type toldJSON struct {
	Label string `json:"label"`
	Batch uint64 `json:"batch"`
	Name  string `json:"name"`
	Added int    `json:"added"`
	There int    `json:"there"`
	Other int    `json:"other"`
}

func (s *stream) json() streamJSON {
	out := streamJSON{Lines: s.lines, Bad: s.bad, Batches: make([]toldJSON, len(s.told))}
	for i, t := range s.told {
		out.Batches[i] = toldJSON{t.label, uint64(t.Batch), t.name, t.Added, t.There, t.Other}
	}
	return out
}
