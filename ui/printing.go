package ui

import (
	"errors"
	"io/fs"

	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/sheet"
	"cellar.local/glassrow/ui/words"
)

// sheetWrittenMsg says where the sheet of a batch is, or why it is nowhere.
type sheetWrittenMsg struct {
	batch model.Batch
	name  string
	path  string
	err   error
}

// printSheet writes the sheet of a batch beside the cellar.
func (a *app) printSheet(b model.Batch, over bool) tea.Cmd {
	if a.opts.SaveBeside == nil {
		a.status = status{"there is nowhere to write it; glassrow sheet does", saidPlain}
		return nil
	}
	say := a.words()
	say.Signs = words.AnySign // a page has every sign, whatever the terminal can show
	src := sheet.Source{
		Batch: b, Labels: a.shelf.label, Tares: a.shelf.shelf.Tare, Words: say, Now: a.opts.Now(),
		Larder: a.opts.larder(), Sorbate: a.opts.Sorbate,
	}
	a.status = status{"writing the sheet", saidPlain}
	a.newTicket() // leaving waits for it
	return writeSheet(src, a.opts.SaveBeside, over)
}

// writeSheet works the batch out, forecast and all, and writes its page.
func writeSheet(src sheet.Source, save func(string, []byte, bool) (string, error), over bool) tea.Cmd {
	return func() tea.Msg {
		src.State, src.Err = model.Replay(src.Batch, src.Now)
		if src.Err == nil {
			src.Outlook, _ = model.Foresee(src.Batch, src.Now) // without one the sheet says nothing of the future
		}
		s := sheet.New(src)
		name := s.Name() + ".html"
		page, err := s.HTML()
		if err != nil {
			return sheetWrittenMsg{batch: src.Batch, name: name, err: err}
		}
		path, err := save(name, []byte(page), over)
		return sheetWrittenMsg{src.Batch, name, path, err}
	}
}

// sheetWritten tells where it is, or asks whether to write over the one before.
func (a app) sheetWritten(msg sheetWrittenMsg) (tea.Model, tea.Cmd) {
	a.saving--
	switch {
	case msg.err == nil:
		a.status = status{"written to " + msg.path, saidGood}
	case errors.Is(msg.err, fs.ErrExist) && (a.focus == onJournal || a.focus == onBottles) && !a.quitting:
		a.status = status{}
		a.confirm.ask(msg.name+" is beside the cellar already. Write over it?", nil, func(a *app) tea.Cmd { return a.printSheet(msg.batch, true) })
		a.enter(onConfirm)
		return a, nil
	default:
		a.quitting = false
		a.status = status{"not written: " + msg.err.Error(), saidBad}
	}
	if a.quitting && a.saving == 0 {
		return a, tea.Quit
	}
	return a, nil
}

// label is what is written on a vessel of the shelf.
func (p shelfPane) label(id model.VesselID) string {
	for _, v := range p.shelf.Vessels {
		if v.ID == id {
			return v.Label
		}
	}
	return ""
}
