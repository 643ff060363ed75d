package model

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// Due is something to do and when. It does not depend on the present: At may lie in
// the past, and whoever shows it asks whether it is late.
type Due struct {
	// Key is what a [Tick] calls it. It stays the same as long as it is the same thing
	// to do: read, rack, feed:12:1 (of the plan in entry 12 the first dose), remind:17.
	Key     string
	What    string
	At      time.Time
	Because string

	// Room marks what is due only where the vessel has room left; see [Row.Dues].
	Room bool
}

// DueNow is how far from its time, before and after, something is due now (choice).
const DueNow = time.Hour

// Late reports whether it should have been done before now.
func (d Due) Late(now time.Time) bool { return !d.At.IsZero() && now.Sub(d.At) >= DueNow }

// The keys of what is due by a rule. What there may be several of has its number after
// a colon.
const (
	DuePitch   = "pitch"
	DueRead    = "read"
	DueFeed    = "feed"
	DueStir    = "stir"
	DueRack    = "rack"
	DueSame    = "same"
	DueTopUp   = "topup"
	DueSulfite = "so2"
	DueTest    = "test"
	DueTaste   = "taste"
	DueRemind  = "remind"
)

// How long to wait. The days are common practice unless a rule says otherwise.
const (
	pitchWithin = 24 * time.Hour
	stirEvery   = 24 * time.Hour
	leesFor     = 28 * 24 * time.Hour
	nearlyDone  = 21 * 24 * time.Hour // racked so shortly before it stood, it left most of its lees (choice)
	sameAfter   = 7 * 24 * time.Hour
	sulfiteLast = 60 * 24 * time.Hour
	testAfter   = 7 * 24 * time.Hour
	tasteMonths = 6
	tasteEvery  = 182 * 24 * time.Hour
)

// How long a batch may go unread, by what it is doing (choice).
var readingDue = map[Standing]time.Duration{
	Lag:          24 * time.Hour,
	Working:      3 * 24 * time.Hour,
	Slowing:      5 * 24 * time.Hour,
	Stuck:        2 * 24 * time.Hour,
	Done:         14 * 24 * time.Hour,
	Restarting:   2 * 24 * time.Hour,
	Rising:       24 * time.Hour,
	Resting:      42 * 24 * time.Hour,
	Stable:       90 * 24 * time.Hour,
	Conditioning: 21 * 24 * time.Hour,
}

// occurrence is something due, and how soon it comes round again once it was done;
// every is 0 for what is done once.
type occurrence struct {
	Due
	every time.Duration
}

// Dues returns what is to be done to a batch, the earliest first: by the rules, and
// what the person wants to be reminded of. s is the state after the whole journal. What
// was ticked off is not among it.
func Dues(b Batch, s State) []Due {
	d := dueing{s: s, drink: b.Drink, live: b.Live()}
	var all []occurrence
	if s.Vessel != 0 && !s.Started.IsZero() {
		all = append(all, d.pitch()...)
		all = append(all, d.read()...)
		all = append(all, d.feeds()...)
		all = append(all, d.stir()...)
		all = append(all, d.aging()...)
	}
	all = append(all, d.bottled()...)
	all = append(all, d.reminders()...)
	return ticked(all, d.live)
}

// dueing works out what is due.
type dueing struct {
	s     State
	drink Drink
	live  []Entry
}

// ticked leaves out what was done, and moves what was put off. What comes round is
// counted from when it was done last.
func ticked(all []occurrence, live []Entry) []Due {
	last := make(map[string]Entry)
	for _, e := range live {
		if t, ok := e.Body.(Tick); ok {
			last[t.Due] = e
		}
	}
	dues := make([]Due, 0, len(all))
	for _, o := range all {
		if e, ok := last[o.Key]; ok {
			until := e.Body.(Tick).Until
			switch {
			case until.IsZero() && o.every == 0:
				continue
			case until.IsZero():
				until = e.At.Add(o.every)
			}
			if until.After(o.At) {
				o.At = until
			}
		}
		dues = append(dues, o.Due)
	}
	slices.SortStableFunc(dues, func(x, y Due) int { return cmp.Or(x.At.Compare(y.At), cmp.Compare(x.Key, y.Key)) })
	return dues
}

// pitch is yeast for a must that has none.
func (d dueing) pitch() []occurrence {
	if !d.s.Pitched.IsZero() {
		return nil
	}
	return []occurrence{{Due: Due{Key: DuePitch, What: "pitch", At: d.s.Started.Add(pitchWithin),
		Because: "the must has no yeast yet, and what is in the air may begin before it"}}}
}

// read is the next visit with the hydrometer.
func (d dueing) read() []occurrence {
	s := d.s
	wait, ok := readingDue[s.Standing]
	if s.Pitched.IsZero() || !ok {
		return nil
	}
	o := occurrence{Due: Due{Key: DueRead, What: "read"}}
	if s.trouble() {
		wait = 48 * time.Hour
	}
	from := s.Pitched
	if s.Read.After(from) {
		from = s.Read
	}
	o.every, o.At = wait, from.Add(wait)
	o.Because = fmt.Sprintf("it is %s: such a batch is read every %s", s.Standing, daysText(wait.Hours()/24))
	if s.Standing != Lag && s.Decides.After(from) {
		o.At = s.Decides
		o.Because = "a reading then tells " + s.Question
		if s.Standing == Slowing {
			o.Because += "; bottle only after two that are the same"
		}
	}
	return []occurrence{o}
}

// stir is the cap of fruit to be punched down, once a day at the least, as long as fruit
// is in it and it works (common practice).
func (d dueing) stir() []occurrence {
	switch d.s.Standing {
	case Lag, Working, Slowing, Rising:
	default:
		return nil
	}
	if d.s.Pitched.IsZero() {
		return nil
	}
	in, from := false, d.s.Pitched
	for _, e := range d.live {
		switch body := e.Body.(type) {
		case Must:
			in = len(body.Fruit) > 0
		case Fruited:
			in, from = true, later(from, e.At)
		case Press, Rack:
			in = false // racked off its fruit
		case Stir:
			from = later(from, e.At)
		}
	}
	if !in {
		return nil
	}
	return []occurrence{{every: stirEvery, Due: Due{Key: DueStir, What: "punch down", At: from.Add(stirEvery),
		Because: "fruit is in it: a cap that dries out spoils"}}}
}

// aging is what a batch needs that no longer works.
func (d dueing) aging() []occurrence {
	s := d.s
	switch s.Standing {
	case Done, Resting, Stable:
	default:
		return nil
	}
	still := s.Read.Add(-days(s.stillDays)) // since when it stands
	var all []occurrence
	if !s.racked.After(still.Add(-nearlyDone)) && d.drink != Beer {
		all = append(all, occurrence{Due: Due{Key: DueRack, What: "rack", At: still.Add(leesFor),
			Because: "it has stood still since " + still.Format("2 Jan") + ": about four weeks on its dead yeast are enough, by common practice"}})
	}
	if d.drink != Beer {
		all = append(all, occurrence{every: sulfiteLast, Due: Due{Key: DueTopUp, What: "top up", At: later(still, s.racked), Room: true,
			Because: "air over a drink that is done spoils it"}})
	}
	all = append(all, d.sameTwice()...)
	if o, ok := d.freeSulfite(); ok {
		all = append(all, o)
	}
	return all
}

// sameTwice is the readings that show that a sweetened batch keeps, before it is
// bottled: two that are the same, a week apart (cautions, section 1: three days at the
// least). The steps of a stabilising are reminders already.
func (d dueing) sameTwice() []occurrence {
	s := d.s
	if s.sweetened.IsZero() {
		return nil
	}
	since := s.sweetened
	seen := 0
	for _, e := range d.live {
		switch body := e.Body.(type) {
		case Reading:
			if body.HasGravity() && !e.At.Before(since.Add(sameAfter/2)) {
				since, seen = e.At, seen+1
			}
		case Reminder:
			if !s.stabilised.IsZero() && e.At.Equal(s.stabilised) {
				return nil
			}
		}
	}
	if seen >= 2 {
		return nil
	}
	return []occurrence{{Due: Due{Key: fmt.Sprintf("%s:%d", DueSame, seen+1), What: "read before bottling", At: since.Add(sameAfter),
		Because: "it was sweetened on " + s.sweetened.Format("2 Jan") + ": bottle when two readings a week apart are the same"}}}
}

// freeSulfite is the test of free SO2, which is used up: every two months (common
// practice).
func (d dueing) freeSulfite() (occurrence, bool) {
	var from time.Time
	sulfited := false
	for _, e := range d.live {
		switch body := e.Body.(type) {
		case Stabilise:
			if body.Sulfite > 0 {
				from, sulfited = later(from, e.At), true
			}
		case Reading:
			if body.HasFreeSO2 {
				from = later(from, e.At)
			}
		}
	}
	return occurrence{every: sulfiteLast, Due: Due{Key: DueSulfite, What: "test free SO2", At: from.Add(sulfiteLast),
		Because: "sulfite is used up: it is tested every two months until the bottle, by common practice"}}, sulfited
}

// bottled is what bottles on the shelf need.
func (d dueing) bottled() []occurrence {
	left := 0
	var filled, tasted, opened time.Time
	for _, e := range d.live {
		switch body := e.Body.(type) {
		case Bottle:
			left += body.Count
			filled = later(filled, e.At)
		case Tasted:
			left -= body.Bottles
			if body.Bottles > 0 {
				opened = later(opened, e.At)
				if body.Marked || body.Words != "" {
					tasted = later(tasted, e.At)
				}
			}
		}
	}
	if left <= 0 {
		return nil
	}
	from, last := filled, "they were filled"
	if tasted.After(filled) {
		from, last = tasted, "one was tasted"
	}
	all := []occurrence{{every: tasteEvery, Due: Due{Key: DueTaste, What: "taste a bottle", At: from.AddDate(0, tasteMonths, 0),
		Because: "it is half a year after " + last + ", on " + from.Format("2 Jan 2006") + "; " + counted(left, "bottle") + " left"}}}
	if !d.s.primed.IsZero() && !d.s.primed.After(filled) && opened.Before(filled) {
		// A week in a warm room shows whether the pressure is going where it should.
		all = append(all, occurrence{Due: Due{Key: DueTest, What: "open a test bottle", At: filled.Add(testAfter),
			Because: "the bottles were primed: one opened cold after a week tells whether the pressure is as meant; shield your face"}})
	}
	return all
}

// reminders are what the person asked to be told of.
func (d dueing) reminders() []occurrence {
	var all []occurrence
	for _, e := range d.live {
		if r, ok := e.Body.(Reminder); ok && !d.fulfilled(e, r) {
			all = append(all, occurrence{Due: Due{Key: fmt.Sprintf("%s:%d", DueRemind, e.ID), What: r.What, At: r.Due,
				Because: "you asked for it on " + e.At.Format("2 Jan 2006")}})
		}
	}
	return all
}

// fulfilled reports whether what a reminder asks for was written since: a gravity read
// about then, something stirred in. Once the drink is in bottles it is for nothing.
func (d dueing) fulfilled(asked Entry, r Reminder) bool {
	if r.By == "" {
		return false
	}
	return slices.ContainsFunc(d.live, func(e Entry) bool {
		if e.ID <= asked.ID || e.At.Before(asked.At) {
			return false
		}
		switch body := e.Body.(type) {
		case Bottle:
			return true
		case Reading:
			return r.By == KindReading && body.HasGravity() && !e.At.Before(r.Due.Add(-aboutThen))
		}
		return e.Body.Kind() == r.By
	})
}

// aboutThen is how much early a reading may be for a reminder to read (choice).
const aboutThen = 36 * time.Hour

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
