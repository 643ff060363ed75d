package cli_test

import (
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/cli"
)

// handbook is a few rows of each table, with their figures.
func handbook() cli.Handbook {
	return cli.Handbook{
		Fruits: []model.Fruit{
			fruit("apple", "apple", parts{calc.Water: 85.56, calc.Sucrose: 2.07, calc.Glucose: 2.43, calc.Fructose: 5.9, calc.Acid: 0.7}, 1.97, 0.05, 0.1,
				"Do not crush the pips: they hold a cyanide-forming substance."),
			fruit("apple_juice", "apple juice", parts{calc.Water: 88.24, calc.Sucrose: 1.26, calc.Glucose: 2.63, calc.Fructose: 5.73}, 0.16, 0, 0, ""),
			fruit("currant_black_uk", "blackcurrant", parts{calc.Water: 77.4, calc.Sucrose: 0.29, calc.Glucose: 3, calc.Fructose: 3.4, calc.Acid: 2.9}, 11.01, 0, 0.02,
				"", "black currant"),
			fruit("oats_rolled", "rolled oats", parts{calc.Water: 10.84, calc.Sucrose: 0.9, calc.Glucose: 0.05, calc.Fructose: 0.04}, 75, 58, 0,
				"Starch: yeast cannot use it without malt, koji or enzymes.", "oats"),
		},
		Yeasts: []model.YeastKind{
			{ID: "ale", Tolerance: calc.YeastTolerance{Name: "ale yeast", Low: 8, High: 12}},
			{ID: "wine", Tolerance: calc.YeastTolerance{Name: "wine yeast", Low: 13, High: 16}},
		},
		Containers: []calc.Container{
			{ID: "beer_bottle_used", Name: "beer bottle, re-used", WarnVolumes: 3, StopVolumes: 4, StopBar: 5},
			{ID: "beer_bottle_new", Name: "beer bottle, new", WarnVolumes: 3.5, StopVolumes: 4.5, StopBar: 6},
			{ID: "sparkling_bottle", Name: "sparkling-wine bottle", WarnVolumes: 6, StopVolumes: 6.5, StopBar: 8},
			{ID: "wine_bottle", Name: "still-wine bottle, cork", WarnVolumes: 0.1, StopVolumes: 0.3, StopBar: 0.5, Still: true},
		},
		Acids: []calc.AcidKind{
			{Listed: listed("tartaric", "tartaric acid"), MolarMass: 150.087, Groups: 2, Purity: 1, PKs: calc.TartaricPKs(), Addable: true},
			{Listed: listed("malic", "malic acid"), MolarMass: 134.087, Groups: 2, Purity: 1, PKs: calc.MalicPKs(), Addable: true},
			{Listed: listed("citric", "citric acid, anhydrous"), MolarMass: 192.124, Groups: 3, Purity: 1, PKs: calc.CitricPKs(), Addable: true},
			{Listed: listed("lactic", "lactic acid, 88 %"), MolarMass: 90.078, Groups: 1, Purity: 0.88, Addable: true},
			{Listed: listed("sulfuric", "sulfuric acid"), MolarMass: 98.08, Groups: 2, Purity: 1},
		},
		Carbonates: []calc.Carbonate{
			{Listed: listed("calcium_carbonate", "calcium carbonate", "chalk"), MolarMass: 100.087, Equivalents: 2,
				Salt: calc.CalciumTartrate, PracticeLow: 0.67, PracticeHigh: 0.67},
			{Listed: listed("potassium_bicarbonate", "potassium bicarbonate"), MolarMass: 100.115, Equivalents: 1,
				Salt: calc.Bitartrate, PracticeLow: 0.9, PracticeHigh: 1},
		},
		Nitrogen: []calc.NitrogenSource{
			{Listed: listed("dap", "diammonium phosphate"), Nitrogen: 212.1, Most: 1},
			{Listed: listed("inactive_yeast", "inactive yeast"), Nitrogen: 40},
		},
		Sorbate: sorbateTable(),
	}
}

func listed(id, name string, aliases ...string) calc.Listed {
	return calc.Listed{ID: id, Name: name, Aliases: aliases}
}

// sorbateTable is a part of Underhill's table, potassium sorbate in mg/L.
func sorbateTable() calc.SorbateTable {
	var rows []calc.SorbateRow
	for abv, doses := range map[calc.PercentVol]map[calc.PH]calc.MilligramPerLitre{
		10: {3.1: 165, 3.4: 240, 3.5: 270},
		12: {3.1: 96, 3.4: 135, 3.5: 150},
		14: {3.1: 60, 3.4: 81, 3.5: 90},
	} {
		for ph, dose := range doses {
			rows = append(rows, calc.SorbateRow{ABV: abv, PH: ph, Dose: dose})
		}
	}
	t, err := calc.NewSorbateTable(rows)
	if err != nil {
		panic(err)
	}
	return t
}

type parts = map[calc.Component]calc.Gram

func fruit(id, name string, per100 parts, pulp, starch calc.PercentMass, refuse float64, caution string, aliases ...string) model.Fruit {
	f, err := calc.NewFruit(name, per100, pulp, starch)
	if err != nil {
		panic(err)
	}
	f.Refuse, f.HalfTime = refuse, 48*time.Hour
	if id == "apple" {
		f.PH, f.Acid = calc.Span{Low: 3.3, High: 4}, calc.Span{Low: 6, High: 8}
	}
	if id == "apple_juice" {
		f.HalfTime = 0
	}
	return model.Fruit{ID: id, Fruit: f, Aliases: aliases, Form: "fresh", Caution: caution, Source: "a food table"}
}
