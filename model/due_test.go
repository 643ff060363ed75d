package model

import (
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
)

// dueFor returns what is due of a key, and whether it is.
func dueFor(dues []Due, key string) (Due, bool) {
	for _, d := range dues {
		if d.Key == key {
			return d, true
		}
	}
	return Due{}, false
}

// dry is a wine that stands dry since day 10.
func dry() *journal {
	return brew(Wine, 5, 1.090, WineYeast).read(4, 1.030, 10, 0.994, 16, 0.994, 22, 0.994)
}

func fruity() *journal {
	return unpitched(Wine, Must{Vessel: 1, Volume: 10, Gravity: 1.090, Fruit: []calc.FruitPortion{{
		Fruit: calc.Fruit{Name: "plum", Juice: plumJuice(), Pulp: 0.1}, Mass: 2000}}}).on(0, Pitch{Yeast: WineYeast})
}

// plumJuice is nine tenths of a gram of something wet and sweet.
func plumJuice() calc.Liquid {
	l, err := calc.NewLiquid(map[calc.Component]calc.Gram{calc.Water: 0.8, calc.Glucose: 0.1})
	if err != nil {
		panic(err)
	}
	return l
}

func plan(doses ...Meal) FeedPlan { return FeedPlan{Doses: doses} }

// Ensure that every rule speaks when it should. Days are common practice unless the
// rule names a source.
func TestDues(t *testing.T) {
	for name, c := range map[string]struct {
		j       *journal
		key     string
		day     float64
		because string
	}{
		"a must waits a day for yeast":      {unpitched(Mead, Must{Vessel: 1, Volume: 10, Gravity: 1.1}), "pitch", 1, "no yeast"},
		"a working one is read":             {brew(Mead, 10, 1.1, WineYeast).read(4, 1.06), "read", 7, "it is working"},
		"an open question sets the reading": {brew(Wine, 5, 1.090, WineYeast).read(4, 1.030, 10, 0.994, 13, 0.994), "read", 15.532, "two that are the same"},
		"a dose by the clock":               {brew(Mead, 10, 1.1, WineYeast).on(0, plan(Meal{What: "salts", Mass: 5, After: 48 * time.Hour})), "feed:3:1", 2, "dose 1 of 1: 2 days after the yeast went in"},
		"a dose whose mark has passed": {brew(Mead, 10, 1.1, WineYeast).on(0, plan(Meal{What: "salts", After: 24 * time.Hour}, Meal{What: "salts", After: 7 * 24 * time.Hour, Mark: 1.067})).
			on(1, Feed{What: "salts", Plan: 3}).read(2, 1.08, 4, 1.06), "feed:3:2", 4, "dose 2 of 2: gravity has come down to 1.067, a third of the way"},
		"a dose whose time comes before its mark": {brew(Mead, 10, 1.1, WineYeast).on(0, plan(Meal{What: "salts", After: 3 * 24 * time.Hour, Mark: 1.067})).read(2, 1.09), "feed:3:1", 3, "3 days after"},
		"a mark ahead is foretold":                {brew(Mead, 10, 1.1, WineYeast).on(0, plan(Meal{What: "honey", Mark: 1.06})).read(2, 1.08), "feed:3:1", 4, "read it first"},
		"a cap to punch down":                     {fruity().read(2, 1.07), "stir", 1, "fruit"},
		"a cap punched down":                      {fruity().on(1.5, Stir{}), "stir", 2.5, "fruit"},
		"fruit that came later":                   {brew(Wine, 10, 1.09, WineYeast).read(1, 1.08).on(2, Fruited{fruity().Entries[0].Body.(Must).Fruit[0]}), "stir", 3, "fruit"},
		"the lees four weeks after it stood":      {dry(), "rack", 38, "four weeks"},
		"a vessel to top up":                      {dry(), "topup", 10, "air"},
		"a first reading once sweetened": {dry().on(23, Stabilise{Sulfite: 0.5, Sorbate: 1}).on(24, added(sugar, 100, "sweeten")),
			"same:1", 31, "two readings a week apart"},
		"a second reading once sweetened": {dry().on(23, Stabilise{Sulfite: 0.5, Sorbate: 1}).on(24, added(sugar, 100, "sweeten")).read(32, 1.002),
			"same:2", 39, "two readings a week apart"},
		"free SO2 two months after the sulfite":       {dry().on(23, Stabilise{Sulfite: 0.5}), "so2", 83, "two months"},
		"free SO2 two months after the test":          {dry().on(23, Stabilise{Sulfite: 0.5}).on(40, Reading{HasFreeSO2: true, FreeSO2: 20}), "so2", 100, "two months"},
		"a test of primed bottles":                    {dry().on(30, added(sugar, 30, "prime"), Bottle{Count: 6, Size: 0.75}), "test", 37, "as meant"},
		"a bottle at six months":                      {dry().on(30, Bottle{Count: 6, Size: 0.75}), "taste", 30 + 183, "6 bottles left"}, // 31 March and six months
		"a bottle half a year after the last":         {dry().on(30, Bottle{Count: 6, Size: 0.75}).on(200, Tasted{Bottles: 1, Words: "young"}), "taste", 200 + 182, "5 bottles left"},
		"a reminder to read, by a reading too soon":   {dry().on(23, Reminder{What: "read it", Due: onDay(31), By: KindReading}).read(25, 0.994), "remind:7", 31, "you asked"},
		"a reminder to read, by a temperature":        {dry().on(23, Reminder{What: "read it", Due: onDay(31), By: KindReading}).on(31, Reading{Temperature: 18, HasTemperature: true}), "remind:7", 31, "you asked"},
		"what the person asked for":                   {dry().on(25, Reminder{What: "buy corks", Due: onDay(40)}), "remind:7", 40, "you asked"},
		"a reminder after the last bottle was filled": {dry().on(25, Reminder{What: "labels", Due: onDay(40)}).on(30, Bottle{Count: 6, Size: 0.75}), "remind:7", 40, "you asked"},
	} {
		due, ok := dueFor(Summarise(c.j.Batch).Dues, c.key)
		if !ok {
			t.Errorf("%s: %s is not due; there is %v", name, c.key, Summarise(c.j.Batch).Dues)
			continue
		}
		if off := due.At.Sub(onDay(c.day)).Abs(); off > 25*time.Hour && c.key == "taste" || off > time.Minute && c.key != "taste" {
			t.Errorf("%s: due on day %.3f, want %.3f", name, due.At.Sub(day0).Hours()/24, c.day)
		}
		if !strings.Contains(due.Because, c.because) || due.What == "" {
			t.Errorf("%s: %q because %q, want %q", name, due.What, due.Because, c.because)
		}
	}
}

// Ensure that a rule is silent where it does not hold.
func TestDues_Silent(t *testing.T) {
	for name, c := range map[string]struct {
		j   *journal
		key string
	}{
		"bottles are not read":                      {dry().on(30, Bottle{Count: 6, Size: 0.75}), "read"},
		"a dose that was given":                     {brew(Mead, 10, 1.1, WineYeast).on(0, plan(Meal{What: "salts", After: 48 * time.Hour})).on(2, Feed{What: "salts", Plan: 3}), "feed:3:1"},
		"a dose of honey that was given":            {brew(Mead, 10, 1.1, WineYeast).on(0, plan(Meal{What: "honey", After: 48 * time.Hour})).on(2, Addition{Portion: Portion{honey, 300}, Plan: 3}), "feed:3:1"},
		"a dose for yeast that is done":             {dry().on(23, plan(Meal{What: "salts", After: 48 * time.Hour})), "feed:7:1"},
		"a mark ahead without a pace":               {brew(Mead, 10, 1.1, WineYeast).on(0, plan(Meal{What: "salts", Mark: 1.06})), "feed:3:1"},
		"no cap without fruit":                      {brew(Wine, 10, 1.09, WineYeast).read(2, 1.07), "stir"},
		"no cap once it is pressed":                 {fruity().read(2, 1.07).on(3, Press{}), "stir"},
		"no cap on a finished one":                  {fruity().read(4, 1.030, 10, 0.994, 16, 0.994, 22, 0.994), "stir"},
		"no lees once it is racked":                 {dry().on(23, Rack{To: 2}), "rack"},
		"no lees once it was racked nearly done":    {brew(Wine, 5, 1.090, WineYeast).read(4, 1.030).on(5, Rack{To: 2}).read(10, 0.994, 16, 0.994, 22, 0.994), "rack"},
		"no lees of beer":                           {brew(Beer, 10, 1.05, AleYeast).read(4, 1.012, 10, 1.012, 15, 1.012), "rack"},
		"no room over what works":                   {brew(Mead, 10, 1.1, WineYeast).read(4, 1.06), "topup"},
		"two equal readings were seen":              {dry().on(24, added(sugar, 100, "sweeten")).read(32, 1.002, 39, 1.002), "same:3"},
		"a stabilising that has its own readings":   {dry().on(23, Stabilise{Sulfite: 0.5, Sorbate: 1}, Reminder{What: "read it", Due: onDay(31)}).on(24, added(sugar, 100, "sweeten")), "same:1"},
		"no SO2 without sulfite":                    {dry().on(23, Stabilise{Chilled: true}), "so2"},
		"no SO2 in the bottle":                      {dry().on(23, Stabilise{Sulfite: 0.5}).on(30, Bottle{Count: 6, Size: 0.75}), "so2"},
		"no test of still bottles":                  {dry().on(30, Bottle{Count: 6, Size: 0.75}), "test"},
		"a test that was made":                      {dry().on(30, added(sugar, 30, "prime"), Bottle{Count: 6, Size: 0.75}).on(36, Tasted{Bottles: 1}), "test"},
		"no taste of what is drunk":                 {dry().on(30, Bottle{Count: 6, Size: 0.75}).on(60, Tasted{Bottles: 6}), "taste"},
		"a reminder to read, by a reading":          {dry().on(23, Reminder{What: "read it", Due: onDay(31), By: KindReading}).read(30, 0.994), "remind:7"},
		"a reminder to read, once it is in bottles": {dry().on(23, Reminder{What: "read it", Due: onDay(31), By: KindReading}).on(24, Bottle{Count: 6, Size: 0.75}), "remind:7"},
		"a reminder to sweeten, by an addition":     {dry().on(23, Stabilise{Sulfite: 0.5, Sorbate: 1}, Reminder{What: "sweeten it", Due: onDay(24), By: KindAddition}).on(23.2, added(sugar, 100, "sweeten")), "remind:8"},
		"a reminder struck out":                     {dry().on(25, Reminder{What: "buy corks", Due: onDay(40)}).on(26, Void{Entry: 7}), "remind:7"},
	} {
		if due, ok := dueFor(Summarise(c.j.Batch).Dues, c.key); ok {
			t.Errorf("%s: %+v is due", name, due)
		}
	}
}

// Ensure that what is done goes, what comes round goes until then, and what is put off
// moves; and that an undo brings it back.
func TestDues_Ticked(t *testing.T) {
	remind := func() *journal { return dry().on(25, Reminder{What: "buy corks", Due: onDay(40)}) }
	for name, c := range map[string]struct {
		j   *journal
		key string
		day float64 // below zero: not due
	}{
		"done once":              {remind().on(39, Tick{Due: "remind:7"}), "remind:7", -1},
		"done of another":        {remind().on(39, Tick{Due: "remind:8"}), "remind:7", 40},
		"done and undone":        {remind().on(39, Tick{Due: "remind:7"}).on(39.1, Void{Entry: 8}), "remind:7", 40},
		"put off":                {remind().on(39, Tick{Due: "remind:7", Until: onDay(50)}), "remind:7", 50},
		"put off, then done":     {remind().on(39, Tick{Due: "remind:7", Until: onDay(50)}).on(50, Tick{Due: "remind:7"}), "remind:7", -1},
		"never put to before":    {remind().on(30, Tick{Due: "remind:7", Until: onDay(31)}), "remind:7", 40},
		"stirred by a tick":      {fruity().on(1.5, Tick{Due: "stir"}), "stir", 2.5},
		"stirred early":          {fruity().on(0.9, Tick{Due: "stir"}), "stir", 1.9},
		"an old tick is nothing": {fruity().on(1.5, Tick{Due: "stir"}).on(3, Stir{}), "stir", 4},
		"read put off":           {dry().on(23, Tick{Due: "read", Until: onDay(90)}), "read", 90},
		"racking never":          {dry().on(23, Tick{Due: "rack"}), "rack", -1},
	} {
		due, ok := dueFor(Summarise(c.j.Batch).Dues, c.key)
		if ok != (c.day >= 0) || ok && due.At.Sub(onDay(c.day)).Abs() > time.Minute {
			t.Errorf("%s: due %v, on day %.3f; want %v", name, ok, due.At.Sub(day0).Hours()/24, c.day)
		}
	}
}

// Ensure that a vessel is topped up only where there is room in it.
func TestRow_Dues(t *testing.T) {
	sum := Summarise(dry().Batch)
	has := func(v Vessel) bool {
		_, ok := dueFor(Row{Vessel: v, Batch: sum}.Dues(), DueTopUp)
		return ok
	}
	if !has(Vessel{Kind: Carboy, Capacity: 6}) || has(Vessel{Kind: Carboy, Capacity: 5.2}) || has(Vessel{Kind: Keg, Capacity: 19}) {
		t.Errorf("topped up: 5 of 6 L %v, 5 of 5.2 L %v, a keg %v", has(Vessel{Kind: Carboy, Capacity: 6}), has(Vessel{Kind: Carboy, Capacity: 5.2}), has(Vessel{Kind: Keg, Capacity: 19}))
	}
	shelf := Shelf{Vessels: []Vessel{{ID: 1, Label: "N1", Kind: Carboy, Capacity: 5}}, Batches: []Summary{sum, Summarise(dry().on(30, Bottle{Count: 6, Size: 0.75}).Batch)}}
	all := shelf.Dues()
	for i := 1; i < len(all); i++ {
		if all[i].Due.At.Before(all[i-1].Due.At) {
			t.Errorf("%v comes after %v", all[i].Due, all[i-1].Due)
		}
	}
	if last := all[len(all)-1]; last.Due.Key != DueTaste || last.Row.Vessel.ID != 0 {
		t.Errorf("the last is %+v, want the bottles to taste", last.Due)
	}
}

// Ensure that doing a thing writes down what it was.
func TestBatch_Fulfil(t *testing.T) {
	b := brew(Mead, 10, 1.1, WineYeast).on(0, plan(Meal{What: "salts", Mass: 5, After: time.Hour}, Meal{What: "honey", Mass: 300, Mark: 1.03, Sugar: honey.PerGram})).Batch
	if got, ok := b.Fulfil("feed:3:1", onDay(2), nil).(Feed); !ok || got.Plan != 3 || got.Dose != 0 || got.Mass != 5 {
		t.Errorf("salts are %+v", b.Fulfil("feed:3:1", onDay(2), nil))
	}
	if got, ok := b.Fulfil("feed:3:2", onDay(2), nil).(Addition); !ok || got.Plan != 3 || got.Dose != 1 || got.Validate() != nil {
		t.Errorf("honey is %+v", b.Fulfil("feed:3:2", onDay(2), nil))
	}
	if got := b.Fulfil("stir", onDay(2), nil); got != (Stir{}) {
		t.Errorf("stirring is %+v", got)
	}
	if got := b.Fulfil("rack", onDay(2), nil); got != (Tick{Due: "rack"}) {
		t.Errorf("racking is %+v", got)
	}
}
