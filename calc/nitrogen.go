package calc

import "fmt"

// Figures of yeast assimilable nitrogen, YAN: ammonium and primary amino nitrogen,
// without proline.
const (
	// NitrogenLeast is the least with which a grape must of about 21 Brix finishes
	// (Bely, Sablayrolles and Barre 1990, from memory; also a winemaker's page).
	NitrogenLeast MilligramPerLitre = 140

	// NitrogenRisk is where sluggish and stuck ferments grow more common (AWRI, Weeks
	// and Henschke).
	NitrogenRisk MilligramPerLitre = 150

	// NitrogenPlenty is the upper end of what textbooks call healthy, and
	// NitrogenTooMuch where spoilage, haze and ethyl carbamate become a worry (from
	// memory).
	NitrogenPlenty  MilligramPerLitre = 400
	NitrogenTooMuch MilligramPerLitre = 450
)

// NitrogenNeed is one of the published scales of how much YAN a must wants. They
// disagree: at 25 Brix they ask for 140, 300 and some 250 mg/L. Name the one used.
type NitrogenNeed string

const (
	// LeastNeed is NitrogenLeast whatever the must: for a yeast that is easily fed,
	// and for those who want no nitrogen left over.
	LeastNeed NitrogenNeed = "least"

	// LowNeed, MediumNeed and HighNeed go by the sugar and by how demanding the yeast
	// is said to be: the scale of mead makers (common practice).
	LowNeed    NitrogenNeed = "low"    // 0.75 mg for each gram
	MediumNeed NitrogenNeed = "medium" // 0.9 mg
	HighNeed   NitrogenNeed = "high"   // 1.25 mg

	// TableNeed goes by the Brix of a grape must: the scale of wineries, and the one
	// that feeds most (Bisson and Butzke 2000, the table from memory).
	TableNeed NitrogenNeed = "table"
)

// NitrogenNeeds returns the scales, those by demand from low to high between the others.
func NitrogenNeeds() []NitrogenNeed {
	return []NitrogenNeed{LeastNeed, LowNeed, MediumNeed, HighNeed, TableNeed}
}

// Milligrams of nitrogen per gram of sugar, by demand.
const (
	nitrogenPerSugarLow    = 0.75
	nitrogenPerSugarMedium = 0.9
	nitrogenPerSugarHigh   = 1.25
)

// The line through the winery table: 200 mg/L at 21 Brix, 250 at 23, 300 at 25 and
// 350 at 27.
const (
	nitrogenTableBrix          Brix              = 21
	nitrogenTableAt            MilligramPerLitre = 200
	nitrogenTablePerDegreeBrix MilligramPerLitre = 25
)

// Musts that the scales are asked for: from a light cider to what hardly ferments.
const (
	minFedBrix Brix = 5
	maxFedBrix Brix = 40
)

// Target returns the YAN that a must of b Brix should have by this scale.
//
//   - least: 140 mg/L;
//   - low, medium, high: 0.75, 0.9 and 1.25 mg for each gram of extract, which is
//     taken for sugar as its users do;
//   - table: 200 + 25·(b − 21) mg/L, published for 21 to 27 Brix. Below that it is
//     carried on down to 140, the floor that is fair from 10 to 20 Brix, and above
//     up to 400, where healthy ends (a choice).
//
// b from 5 to 40; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber], as it
// wraps ErrOutOfRange for another scale. Source: as at each name. At 24 Brix low is
// 198, medium 237, high 330 and the table 275.
func (n NitrogenNeed) Target(b Brix) (MilligramPerLitre, error) {
	if err := inRange("extract", float64(b), float64(minFedBrix), float64(maxFedBrix), " Brix"); err != nil {
		return 0, err
	}
	w := float64(b) / 100
	perSugar := func(mg float64) MilligramPerLitre { return MilligramPerLitre(mg * w * sucroseDensity20(w)) }
	switch n {
	case LeastNeed:
		return NitrogenLeast, nil
	case LowNeed:
		return perSugar(nitrogenPerSugarLow), nil
	case MediumNeed:
		return perSugar(nitrogenPerSugarMedium), nil
	case HighNeed:
		return perSugar(nitrogenPerSugarHigh), nil
	case TableNeed:
		line := nitrogenTableAt + nitrogenTablePerDegreeBrix*MilligramPerLitre(b-nitrogenTableBrix)
		return min(max(line, NitrogenLeast), NitrogenPlenty), nil
	}
	return 0, fmt.Errorf("nitrogen need %q is not one of %s: %w", string(n), oneOf(NitrogenNeeds()), ErrOutOfRange)
}

// NitrogenSource is a row of the handbook: something to feed yeast with.
type NitrogenSource struct {
	Listed
	Nitrogen float64      // milligrams of YAN from a gram
	Most     GramPerLitre // what rules allow, or makers advise; 0: not said
}

// Brings returns the nitrogen that so much of it gives to a volume; none in no volume.
func (n NitrogenSource) Brings(m Gram, v Litre) MilligramPerLitre {
	return ConcentrationOf(m*Gram(n.Nitrogen)/milligramsPerGram, v)
}
