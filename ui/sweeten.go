package ui

import (
	"slices"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/textinput"

	"cellar.local/glassrow/model"
)

// sweetenPane tries up to four ways to sweeten on copies of the batch: every key
// works the whole liquid out again. Nothing is written until one is committed.
type sweetenPane struct {
	asking bool // a question below tells the cautions

	opts     Options
	keys     sweetenKeys
	line     textinput.Model // what is typed: a target, a price, a name
	typing   typed
	settings model.Settings

	row   model.Row
	batch model.Batch
	state model.State

	tried []tried
	at    int // the one that the keys move

	told       string // what happened last
	bad        bool   // and whether that was a refusal
	ticket     ticket // of an addition being written
	lineTicket ticket // of what was typed, being written
}

// tried is a candidate and what it would make of the batch.
type tried struct {
	model.Candidate
	trial model.Trial
	err   error // why it gives nothing to show
}

// typed says what the line in the planner is for.
type typed uint8

const (
	typingNothing typed = iota
	typingTarget
	typingPrice
	typingPlanName
)

func newSweetenPane(o Options) sweetenPane {
	in := textinput.New()
	in.Prompt = ""
	in.CharLimit = 60
	in.Cursor.SetMode(cursor.CursorStatic)
	return sweetenPane{opts: o, keys: newSweetenKeys(), line: in}
}

// open looks at the batch of row. Candidates are kept from the last visit to the
// same batch; another one begins with the first sweetener of the handbook.
func (p *sweetenPane) open(row model.Row, b model.Batch, s model.State, set model.Settings) {
	if row.Batch.Batch != p.batch.ID || len(p.tried) == 0 {
		p.tried, p.at = nil, 0
		if len(p.opts.Sweeteners) > 0 {
			p.tried = []tried{{Candidate: model.Candidate{First: p.opts.Sweeteners[0], Share: 0.5}}}
		}
	}
	p.row, p.batch, p.state, p.settings = row, b, s, set
	p.typing, p.told, p.ticket, p.lineTicket = typingNothing, "", 0, 0
	p.workAll()
}

// setBatch takes a fresh read of the batch on trial.
func (p *sweetenPane) setBatch(b model.Batch, s model.State, err error) {
	if b.ID != p.batch.ID || err != nil {
		return
	}
	p.batch, p.state = b, s
	p.workAll()
}

// take replaces the candidates, as by a plan that was kept.
func (p *sweetenPane) take(all []model.Candidate) {
	p.tried, p.at = nil, 0
	for _, c := range all {
		p.tried = append(p.tried, tried{Candidate: c})
	}
	p.workAll()
}

// candidates returns what is being looked at.
func (p sweetenPane) candidates() []model.Candidate {
	out := make([]model.Candidate, len(p.tried))
	for i, t := range p.tried {
		out[i] = t.Candidate
	}
	return out
}

// current returns the candidate that the keys move; nil without a handbook.
func (p *sweetenPane) current() *tried {
	if p.at >= len(p.tried) {
		return nil
	}
	return &p.tried[p.at]
}

// workAll tries every candidate anew.
func (p *sweetenPane) workAll() {
	for i := range p.tried {
		p.work(&p.tried[i])
	}
}

func (p *sweetenPane) work(t *tried) {
	if p.batch.ID != 0 {
		t.trial, t.err = t.Try(p.state, p.batch.Drink)
	}
}

// change gives the current candidate another shape and tries it. It works on a copy
// of the list: earlier screens share the old one.
func (p *sweetenPane) change(how func(*tried)) {
	if p.current() == nil {
		return
	}
	p.tried = slices.Clone(p.tried)
	p.told = ""
	c := p.current()
	how(c)
	p.work(c)
}

func (p *sweetenPane) tell(text string, bad bool) { p.told, p.bad = text, bad }
