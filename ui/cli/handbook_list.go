package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
)

// lists reports whether a list is asked for, and not one row.
func lists(cmd *cobra.Command) bool {
	return slices.ContainsFunc([]string{"sweeteners", "fruit", "own", "sort"}, cmd.Flags().Changed)
}

func orderNames(t model.Table) string {
	names := make([]string, 0, 6)
	for _, o := range model.OrdersOf(t) {
		names = append(names, string(o))
	}
	return strings.Join(names, ", ")
}

// listHandbook prints the rows that have the words, table by table.
func (a *app) listHandbook(cmd *cobra.Command, words string) error {
	order := word[model.Order](text(cmd, "sort"))
	if !slices.Contains(model.OrdersOf(model.FruitTable), order) {
		return fmt.Errorf("--sort %q is not known; want one of %s", order, orderNames(model.FruitTable))
	}
	object := struct {
		Rows []rowJSON `json:"rows"`
	}{[]rowJSON{}}
	var out []string
	for _, t := range listedTables(cmd) {
		rows := model.Sorted(model.Search(a.larder().Rows(t), words), order)
		if on(cmd, "own") {
			rows = slices.DeleteFunc(rows, func(s model.Stuff) bool { return !s.Origin().Own() })
		}
		if len(rows) == 0 {
			continue
		}
		if len(out) > 0 {
			out = append(out, "")
		}
		first := len(object.Rows)
		for _, s := range rows {
			object.Rows = append(object.Rows, rowOf(s))
		}
		out = append(out, lines(handbookColumns(t, object.Rows[first:]), a.width())...)
	}
	if len(out) == 0 {
		out = []string{"nothing is called that; glassrow handbook lists everything"}
	}
	return a.answer(cmd, object, out...)
}

// listedTables are the tables that the flags ask for; neither is both.
func listedTables(cmd *cobra.Command) []model.Table {
	sweeteners, fruit := on(cmd, "sweeteners"), on(cmd, "fruit")
	switch {
	case sweeteners == fruit:
		return model.Tables()
	case fruit:
		return []model.Table{model.FruitTable}
	}
	return []model.Table{model.SweetenerTable}
}

func handbookColumns(t model.Table, rows []rowJSON) []column {
	name := column{title: string(t), least: 12}
	own := column{title: "own"}
	sugar := column{title: "sugar g", right: true}
	share := column{title: "yeast", right: true}
	sweet := column{title: "sweet", right: true, spare: 1}
	points := column{title: "points", right: true, spare: 2}
	ph := column{title: "pH", right: true, spare: 3}
	for _, r := range rows {
		mark := ""
		if r.Own {
			mark = "own"
		}
		gravity := "-"
		if r.MetricSG != nil {
			gravity = fmt.Sprintf("%.1f", 1000*(float64(*r.MetricSG)-1))
		}
		acid := "-"
		if r.PH != nil {
			acid = spanText(r.PH, "%.1f")
		}
		name.cells, own.cells = append(name.cells, r.Name), append(own.cells, mark)
		sugar.cells = append(sugar.cells, fmt.Sprintf("%.1f", float64(r.Sugar)))
		share.cells = append(share.cells, fmt.Sprintf("%.0f%%", 100*float64(r.Share)))
		digits := 2
		if r.Sweetness >= 10 {
			digits = 0
		}
		sweet.cells = append(sweet.cells, fmt.Sprintf("%.*f", digits, float64(r.Sweetness)))
		points.cells, ph.cells = append(points.cells, gravity), append(ph.cells, acid)
	}
	columns := []column{name, own, sugar, share, sweet, points}
	if t == model.FruitTable {
		columns = append(columns, ph)
	}
	return columns
}
