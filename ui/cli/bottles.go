package cli

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/cells"
	"cellar.local/glassrow/ui/words"
)

func (a *app) bottlesCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "bottles",
		Short: "list the bottles that are left",
		Long: `List the batches with bottles left: how many of how many, their size, how long they
have lain, the strength they were filled at, the last mark out of ten, and when the
batch was at its best as far as its marks tell. Bottles that may burst are marked with !
and told of under the list. --json lists the batches that are drunk up too.`,
		Example:           "  glassrow bottles\n  glassrow bottles --json",
		Args:              takes(0, 0, ""),
		RunE:              func(cmd *cobra.Command, _ []string) error { return a.bottles(on(cmd, "json")) },
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	jsonFlag(cmd)
	return cmd
}

// cased is a batch with bottles.
type cased struct {
	batch  model.Batch
	stock  model.Stock
	hazard model.Hazard
}

// cased reads the batches that were bottled, those that have lain longest first.
func (a *app) cased(store ui.Store, shelf model.Shelf) ([]cased, error) {
	var out []cased
	for _, sum := range shelf.Batches {
		if sum.Bottles == 0 && sum.Vessel != 0 {
			continue
		}
		b, err := store.Batch(sum.Batch)
		if err != nil {
			return nil, err
		}
		one := cased{batch: b, stock: b.Stock(a.Now())}
		if one.stock.Filled == 0 {
			continue
		}
		if s, err := model.Replay(b, a.Now()); err == nil {
			if one.hazard, err = b.BottleHazard(one.stock, s, a.Handbook.Sorbate); err != nil {
				one.hazard.Sugar = s.Figures.Fermentable // not known to keep
			}
		}
		out = append(out, one)
	}
	slices.SortStableFunc(out, func(x, y cased) int {
		ox, _ := x.stock.Oldest()
		oy, _ := y.stock.Oldest()
		return ox.At.Compare(oy.At)
	})
	return out, nil
}

func (a *app) bottles(asJSON bool) error {
	store, shelf, err := a.open()
	if err != nil {
		return err
	}
	all, err := a.cased(store, shelf)
	if err != nil {
		return err
	}
	if asJSON {
		out := bottlesJSON{Batches: []casedJSON{}}
		for _, c := range all {
			out.Batches = append(out.Batches, newCasedJSON(c))
		}
		return a.showJSON(out)
	}
	return a.show(a.bottlesText(all, a.words(shelf.Settings)))
}

func (a *app) bottlesText(all []cased, say words.Words) string {
	now, width := a.Now(), a.width()
	cols := []column{{}, {title: "batch", least: 10}, {title: "lot", spare: 3}, {title: "left", right: true}, {title: "size", right: true, spare: 2},
		{title: "age", right: true}, {title: "% vol", right: true, spare: 1}, {title: "mark", right: true}, {title: "best", spare: 4}}
	total := 0
	var warned []string
	for _, c := range all {
		if c.stock.Left == 0 {
			continue
		}
		total += c.stock.Left
		next, _ := c.stock.Oldest()
		mark := " "
		if c.hazard.Any() {
			mark = "!"
			for i, text := range cells.Wrap(say.Text(c.batch.Name)+": "+say.BottleHazard(c.hazard), width-2) {
				lead := "  "
				if i == 0 {
					lead = "! "
				}
				warned = append(warned, lead+text)
			}
		}
		last, best := "-", "-"
		if marked := c.stock.Marked(); len(marked) > 0 {
			last = words.Mark(marked[len(marked)-1].Mark)
		}
		if at, ok := c.stock.Best(); ok {
			best = at.At.In(now.Location()).Format("Jan 2006")
		}
		for i, cell := range []string{mark, say.Text(c.batch.Name), c.batch.Lot(), fmt.Sprintf("%d of %d", c.stock.Left, c.stock.Filled),
			say.SmallVolume(next.Size), words.Age(next.At, now), say.Percent(next.Strength, 0), last, best} {
			cols[i].cells = append(cols[i].cells, cell)
		}
	}
	if total == 0 {
		return "No bottles left; glassrow bottle writes down that some were filled\n"
	}
	out := []string{words.Count(total, "bottle", "bottles") + " left"}
	return joinLines(append(append(out, lines(cols, width)...), warned...))
}

type bottlesJSON struct {
	Batches []casedJSON `json:"batches"`
}

type casedJSON struct {
	Batch     uint64          `json:"batch"`
	Name      string          `json:"name"`
	Kind      string          `json:"kind"`
	Lot       string          `json:"lot"`
	Filled    int             `json:"filled"`
	Left      int             `json:"left"`
	MayBurst  bool            `json:"may_burst"`
	Best      *bestJSON       `json:"best"`
	Bottlings []bottlingJSON  `json:"bottlings"`
	Openings  []bottleOutJSON `json:"taken"`
}

type bestJSON struct {
	At    stamp  `json:"at"`
	Mark  number `json:"mark"`
	Marks int    `json:"marks"`
	Last  bool   `json:"last"` // it may become better still
}

type bottlingJSON struct {
	At      stamp   `json:"at"`
	Count   int     `json:"count"`
	Left    int     `json:"left"`
	Size    number  `json:"size_l"`
	Closure string  `json:"closure,omitempty"`
	SG      *number `json:"sg"`
	ABV     *number `json:"abv_pct"`
}

type bottleOutJSON struct {
	Entry   uint64  `json:"entry"`
	At      stamp   `json:"at"`
	Bottles int     `json:"bottles"`
	Mark    *number `json:"mark"` // null: none
	Words   string  `json:"words,omitempty"`
}

func newCasedJSON(c cased) casedJSON {
	out := casedJSON{Batch: uint64(c.batch.ID), Name: c.batch.Name, Kind: string(c.batch.Drink), Lot: c.batch.Lot(),
		Filled: c.stock.Filled, Left: c.stock.Left, MayBurst: c.hazard.Any(), Bottlings: []bottlingJSON{}, Openings: []bottleOutJSON{}}
	if best, ok := c.stock.Best(); ok {
		out.Best = &bestJSON{stamp(best.At), number(best.Mark), best.Marks, best.Last}
	}
	for _, b := range c.stock.Bottlings {
		one := bottlingJSON{At: stamp(b.At), Count: b.Count, Left: b.Left, Size: number(b.Size), Closure: b.Closure, SG: known(b.SG)}
		if b.SG != 0 {
			one.ABV = figure(b.Strength)
		}
		out.Bottlings = append(out.Bottlings, one)
	}
	for _, o := range c.stock.Openings {
		one := bottleOutJSON{Entry: uint64(o.Entry), At: stamp(o.At), Bottles: o.Bottles, Words: o.Words}
		if o.Tasted.Marked {
			one.Mark = figure(o.Mark)
		}
		out.Openings = append(out.Openings, one)
	}
	return out
}

func (a *app) tasteCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "taste LABEL|BATCH",
		Short: "write down a bottle taken, and how it was",
		Long: `Write down that a bottle was taken, with a mark from 0 to 10 and words; both may be
left out. A batch in bottles goes by its name, its lot, or '#' and its number, which the
shell wants in quotes. By the label of a vessel the taste is out of the vessel, and
takes no bottle unless --bottles says so.`,
		Example:           "  glassrow taste \"Quince wine\" --mark 8 --words \"round, long\"\n  glassrow taste '#12' --bottles 3 --words \"to the neighbours\"",
		Args:              takes(1, 1, "a label or a batch"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.taste(cmd, args[0]) },
		ValidArgsFunction: a.completeBatch,
	}
	cmd.Flags().String("bottles", "1", "how `MANY` were taken; 0: a taste out of the vessel")
	cmd.Flags().String("mark", "", "0 to 10, the higher the better")
	cmd.Flags().String("words", "", "how it was, or for whom")
	atFlag(cmd)
	jsonFlag(cmd)
	return cmd
}

func (a *app) taste(cmd *cobra.Command, name string) error {
	at, err := a.find(name)
	if err != nil {
		return err
	}
	now := a.Now()
	when, err := model.ParseWhen(text(cmd, "at"), now)
	if err != nil {
		return err
	}
	stock := at.batch.Stock(now)
	taken, err := tastedOf(cmd, at.tastesVessel(name, stock))
	if err != nil {
		return err
	}
	if err := takeable(stock, taken.Bottles, when); err != nil {
		return fmt.Errorf("%s: %w", at.batch.Name, err)
	}
	b, err := at.store.Append(at.batch.ID, model.Entry{At: when, Recorded: now, Body: taken})
	if err != nil {
		return err
	}
	say := a.words(at.settings)
	out := []string{at.writtenDown(say.Entry(taken, at.label), say, when, now)}
	if stock := b.Stock(now); taken.Bottles > 0 {
		out = append(out, fmt.Sprintf("  %d of %d left", stock.Left, stock.Filled))
		if best, ok := stock.Best(); ok {
			out = append(out, "  "+say.Text(say.Best(best, now.Location())))
		}
	}
	return a.wrote(cmd, at, b, out...)
}

// takeable refuses bottles that were not there.
func takeable(s model.Stock, n int, when time.Time) error {
	if n == 0 {
		return nil
	}
	return s.CanTake(n, when)
}

// tastesVessel reports whether somebody who names the batch so, and no number of
// bottles, means the drink in the vessel.
func (s spot) tastesVessel(name string, stock model.Stock) bool {
	_, label := s.shelf.VesselNamed(name)
	return label || stock.Filled == 0
}

// tastedOf is the taste that the flags describe.
func tastedOf(cmd *cobra.Command, vessel bool) (model.Tasted, error) {
	t := model.Tasted{Bottles: 1, Words: text(cmd, "words")}
	switch {
	case cmd.Flags().Changed("bottles"):
		n, err := strconv.Atoi(text(cmd, "bottles"))
		if err != nil {
			return t, fmt.Errorf("number of bottles %q is not understood; write 1: %w", text(cmd, "bottles"), model.ErrInvalid)
		}
		t.Bottles = n
	case vessel:
		t.Bottles = 0
	}
	if typed := text(cmd, "mark"); typed != "" {
		mark, err := model.ParseTaste(typed)
		if err != nil {
			return t, err
		}
		if mark.Words != "" {
			return t, fmt.Errorf("mark %q is not understood; write 0 to 10, as 7.5: %w", typed, model.ErrInvalid)
		}
		t.Marked, t.Mark = mark.Marked, mark.Mark
	}
	if t.Bottles == 0 && !t.Marked && t.Words == "" {
		return t, errors.New("say how it was, with --mark 8 or --words TEXT")
	}
	return t, t.Validate()
}
