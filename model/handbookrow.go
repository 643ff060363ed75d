package model

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"cellar.local/glassrow/calc"
)

// RowText is a row of a table as its file holds it: text by column. It is how a row
// is edited, so that nothing of it is lost that the program has no use for.
type RowText map[string]string

// RowField is a cell of a row, or two that belong together, as a person fills it in.
type RowField struct {
	Name    string   // a word or two
	Columns []string // where it is kept; two are the lowest and the highest figure
	Hint    string   // what may be written
	Choices []string // when it can only be one of these
	Start   string   // what a new row begins with

	unit   cellUnit
	sets   RowText  // cells that go with a figure in this one
	clears []string // columns that no longer hold once this one is changed
}

// cellUnit says what may be written behind the number of a cell, and what one of it
// is in the unit of the column. A number alone is in the unit of the column.
type cellUnit struct {
	shown   string // the unit of the column
	example string
	units   []unit
}

var (
	sharePct  = cellUnit{"%", "17.2%", []unit{{[]string{"%", "g/100g", "g"}, 1}}}
	weightPer = cellUnit{"kg/L", "1.42kg/L or 11.9lb/gal", []unit{{[]string{"kg/l", "g/ml"}, 1}, {[]string{"lb/gal"}, calc.GramsPerPound / 1000 / calc.LitresPerUSGallon}}}
	cupGrams  = cellUnit{"g", "339g or 12oz", massUnits}
	halfTime  = cellUnit{"h", "48h or 2d", []unit{{[]string{"h", "hour", "hours"}, 1}, {[]string{"d", "day", "days"}, 24}}}
	acidPerKg = cellUnit{"g/kg", "6-8g/kg or 0.6-0.8%", []unit{{[]string{"g/kg", "g/l"}, 1}, {[]string{"%"}, 10}}}
	plainPH   = cellUnit{"", "3.3-4.0", nil}
)

// measured is what a new row says of how far its figures were checked.
const measured = "my own figures"

// UnfermentableKinds are what the part of a sweetener that yeast leaves can be.
func UnfermentableKinds() []string {
	return []string{"solids", "dextrin", "lactose", "erythritol", "xylitol", "sorbitol", "allulose",
		"sucralose", "stevia", "saccharin", "acesulfame-K", "aspartame", "monk fruit"}
}

// FruitGroups are the groups of the handbook of fruit.
func FruitGroups() []string {
	return []string{"berry", "pome", "stone", "grape", "citrus", "tropical", "melon", "dried", "juice", "root", "starch", "other"}
}

func textCell(name, column, hint string) RowField {
	return RowField{Name: name, Columns: []string{column}, Hint: hint}
}

func figureCell(name, column, hint string, u cellUnit) RowField {
	f := textCell(name, column, hint)
	f.unit = u
	return f
}

// sugarCell is figureCell for a sugar of a fruit, of which a total may be printed besides.
func sugarCell(name, column, hint string) RowField {
	f := figureCell(name, column, hint, sharePct)
	f.clears = []string{"total_sugars_pct"}
	return f
}

// spanCell is figureCell for a range in two columns; source is the column that says where the
// range is from.
func spanCell(name, low, high, source, hint string, u cellUnit) RowField {
	f := figureCell(name, low, hint, u)
	f.Columns, f.clears = []string{low, high}, []string{source}
	return f
}

func (f RowField) startingAs(s string) RowField {
	f.Start = s
	return f
}

func (f RowField) oneOf(choices []string) RowField {
	f.Choices = choices
	return f
}

// RowFields returns what is asked of a row, in the order in which it is asked.
func RowFields(t Table) []RowField {
	fields := []RowField{
		textCell("name", "name", "as you would look for it"),
		textCell("also", "aliases", "other names, with ; between; may stay empty"),
	}
	if t == FruitTable {
		fields = append(fields,
			textCell("group", "group", "").oneOf(FruitGroups()),
			textCell("form", "form", "fresh, frozen, dried, juice").startingAs("fresh"),
			figureCell("water", "water_pct", "85%, of the part that goes in", sharePct),
			sugarCell("sucrose", "sucrose_pct", "2%"),
			sugarCell("glucose", "glucose_pct", "2.4%"),
			sugarCell("fructose", "fructose_pct", "6%"),
			sugarCell("maltose", "maltose_pct", "empty is none"),
			figureCell("sorbitol", "sorbitol_pct", "empty is none; pears and sloes have some", sharePct),
			figureCell("pulp", "insoluble_pct", "2%, what never dissolves: skin, pips, fibre, starch", sharePct),
			figureCell("starch", "starch_pct", "what of the pulp is starch; empty is none", sharePct),
			figureCell("waste", "refuse_pct", "10%, of what is bought: stones, cores, peel", sharePct),
			figureCell("half out", "half_time_h", "48h or 2d: half the juice is out of the whole fruit; 0 for a juice", halfTime).startingAs("48"),
			spanCell("pH", "ph_low", "ph_high", "ph_source", "3.3-4.0, or one figure; empty: not known", plainPH),
			spanCell("acid", "acid_low_g_per_kg", "acid_high_g_per_kg", "acid_source", "6-8g/kg or 0.7%; empty: not known", acidPerKg),
			textCell("its acid", "main_acid", "malic, citric, tartaric; may stay empty"),
		)
	} else {
		fields = append(fields,
			textCell("form", "form", "crystals, powder, syrup").startingAs("syrup"),
			figureCell("water", "water_pct", "17.2%; all parts together make 100", sharePct),
			figureCell("sucrose", "sucrose_pct", "1.3%", sharePct),
			figureCell("glucose", "glucose_pct", "31%", sharePct),
			figureCell("fructose", "fructose_pct", "38%", sharePct),
			figureCell("maltose", "maltose_pct", "7.3%", sharePct),
			maltotriose(),
			figureCell("rest", "unfermentable_pct", "what yeast leaves: 5%", sharePct),
			textCell("rest is", "unfermentable_kind", "").oneOf(UnfermentableKinds()),
			figureCell("weight", "kg_per_litre", "1.42kg/L or 11.9lb/gal; empty: not known", weightPer),
			figureCell("a cup", "cup_g", "339g or 12oz in a level US cup; empty: not known", cupGrams),
			textCell("flavour", "flavour", "may stay empty"),
		)
	}
	return append(fields,
		textCell("caution", "caution", "what can hurt whom; may stay empty"),
		textCell("notes", "notes", "may stay empty"),
		textCell("source", "source", "where the figures are from: the label, a book, your refractometer"),
		textCell("checked", "checked", "how far they can be trusted").startingAs(measured),
	)
}

// maltotriose is the one sugar besides that yeast can use; malt has it.
func maltotriose() RowField {
	f := figureCell("m.triose", "other_fermentable_pct", "maltotriose, as in malt; empty is none", sharePct)
	f.sets = RowText{"other_fermentable_kind": "maltotriose"}
	return f
}

// Of returns what the field holds in a row, as a person would type it.
func (f RowField) Of(row RowText) string {
	low := row[f.Columns[0]]
	if low == "" || f.unit.example == "" {
		return low
	}
	if last := f.Columns[len(f.Columns)-1]; row[last] != low {
		low += "-" + row[last]
	}
	return low + f.unit.shown
}

// Put writes what a person typed into the columns of row. The error says what to
// type instead.
func (f RowField) Put(row RowText, typed string) error {
	typed = strings.TrimSpace(typed)
	if typed == f.Of(row) {
		return nil // to the letter what it was
	}
	for _, c := range f.clears {
		row[c] = ""
	}
	if f.unit.example == "" || typed == "" {
		for _, c := range f.Columns {
			row[c] = typed
		}
		return nil
	}
	ends := []string{typed}
	if len(f.Columns) == 2 {
		ends = strings.SplitN(strings.ReplaceAll(typed, "–", "-"), "-", 2)
	}
	_, tail, _ := splitUnit(strings.ToLower(strings.TrimSpace(ends[len(ends)-1]))) // 6-8g/kg: the unit is behind both
	for i, c := range f.Columns {
		x, err := f.unit.read(ends[min(i, len(ends)-1)], tail)
		if err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
		row[c] = strconv.FormatFloat(x, 'g', 6, 64)
	}
	maps.Copy(row, f.sets)
	return nil
}

// read understands one figure; tail is the unit when it has none of its own.
func (u cellUnit) read(typed, tail string) (float64, error) {
	x, name, err := splitUnit(strings.ToLower(strings.TrimSpace(typed)))
	if err != nil {
		return 0, fmt.Errorf("%q is not understood; write %s: %w", typed, u.example, ErrInvalid)
	}
	if name = strings.TrimSpace(name); name == "" {
		name = strings.TrimSpace(tail)
	}
	if name == "" {
		return x, nil
	}
	for _, known := range u.units {
		if slices.Contains(known.names, strings.ReplaceAll(name, " ", "")) {
			return finite(x*known.size, "the figure", typed)
		}
	}
	return 0, fmt.Errorf("unit %q is not known here; write %s: %w", name, u.example, ErrInvalid)
}

// StartRow returns what a new row of a table begins with.
func StartRow(t Table) RowText {
	row := RowText{}
	for _, f := range RowFields(t) {
		row[f.Columns[0]] = f.Start
		if f.Choices != nil {
			row[f.Columns[0]] = f.Choices[0]
		}
	}
	return row
}

// Revised returns a row as the beginning of the person's own figures in its place: it
// says whose they were.
func (r RowText) Revised() RowText {
	row := maps.Clone(r)
	if !strings.HasPrefix(row["source"], revisedFrom) {
		row["source"] = revisedFrom + row["source"]
	}
	row["checked"] = measured
	return row
}

const revisedFrom = "my own, after "

// FillRow writes what was typed into a row, by name of the field or of its column.
func FillRow(t Table, row RowText, name, typed string) error {
	f, err := fieldNamed(t, name)
	if err != nil {
		return err
	}
	return f.Put(row, typed)
}

// fieldNamed returns the field of a table that goes by the name, or holds the column
// of that name. The error lists the names.
func fieldNamed(t Table, name string) (RowField, error) {
	want := foldName(name)
	var names []string
	for _, f := range RowFields(t) {
		if foldName(f.Name) == want || foldName(f.Columns[0]) == want {
			return f, nil
		}
		names = append(names, f.Name)
	}
	return RowField{}, fmt.Errorf("%q is nothing that a row of %s holds; there are %s: %w", name, t, strings.Join(names, ", "), ErrInvalid)
}

// FieldOf returns the name of the field that holds a column; a column that no field
// holds goes by its own name.
func FieldOf(t Table, column string) string {
	for _, f := range RowFields(t) {
		if slices.Contains(f.Columns, column) {
			return f.Name
		}
	}
	return column
}
