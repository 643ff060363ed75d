package calc

import "testing"

// The planner asks for these at every key.

func BenchmarkStabilised(b *testing.B) {
	b.ReportAllocs()
	table := benchSorbateTable(b)
	p := live
	p.Molecular, p.Sorbate, p.Heat = 0.8, 120, 60
	for b.Loop() {
		got, err := Stabilised(p, table)
		if err != nil {
			b.Fatal(err)
		}
		sink = float64(got.Verdict)
	}
}

func BenchmarkSorbateTable_Dose(b *testing.B) {
	b.ReportAllocs()
	table := benchSorbateTable(b)
	abv := 10.0
	for b.Loop() {
		abv = max(10, nextUpTo(abv, 0.01, 14))
		got, _ := table.Dose(PercentVol(abv), 3.35, 19)
		sink = float64(got.Mass)
	}
}

func BenchmarkMolecularSO2AtStrength(b *testing.B) {
	b.ReportAllocs()
	abv := 0.0
	for b.Loop() {
		abv = nextUpTo(abv, 0.01, 20)
		got, _ := MolecularSO2AtStrength(35, 3.4, PercentVol(abv), 20)
		sink = float64(got)
	}
}

// benchSorbateTable has as many points as the handbook.
func benchSorbateTable(b *testing.B) SorbateTable {
	b.Helper()
	var rows []SorbateRow
	for i := range 5 {
		for j := range 5 {
			rows = append(rows, SorbateRow{PercentVol(10 + i), PH(3.1 + 0.1*float64(j)), MilligramPerLitre(165 - 25*i + 10*j), ""})
		}
	}
	table, err := NewSorbateTable(rows)
	if err != nil {
		b.Fatal(err)
	}
	return table
}
