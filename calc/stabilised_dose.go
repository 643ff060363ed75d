package calc

// FreeAfter returns the free SO2 that is left of mass grams of the salt in v litres
// when [FirstSulfiteFreeHigh] of it does not bind. It goes on falling in storage, so it
// is what may be there at best and no measurement.
//
// mass from 0 to 1e9 g, v above 0 and up to a million litres, and no more than 2000
// mg/L of it all; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
// 1 g of potassium metabisulfite in 10 L, 57.6 mg/L of SO2, leaves 38.4.
func (s Sulfite) FreeAfter(mass Gram, v Litre) (MilligramPerLitre, error) {
	if err := inRange("mass of sulfite", float64(mass), 0, maxGrams, " g"); err != nil {
		return 0, err
	}
	if err := inRange("volume", float64(v), 1e-3, maxDosedLitres, " L"); err != nil {
		return 0, err
	}
	total := ConcentrationOf(mass*Gram(s.SO2), v)
	if err := inRange("SO2 from sulfite", float64(total), 0, float64(maxSO2), " mg/L"); err != nil {
		return 0, err
	}
	return FirstSulfiteFreeHigh * total, nil
}

// ConcentrationOf returns mass grams in v litres as milligrams a litre, the inverse of
// [MilligramPerLitre.In]; none in no volume.
func ConcentrationOf(mass Gram, v Litre) MilligramPerLitre {
	if !(v > 0) {
		return 0
	}
	return MilligramPerLitre(float64(mass) * milligramsPerGram / float64(v))
}

// Less returns the dose with what is in v litres already taken off.
func (d SorbateDose) Less(there MilligramPerLitre, v Litre) SorbateDose {
	left := max(0, d.Sorbate-max(0, there))
	share := MilligramPerLitre(0)
	if d.Sorbate > 0 {
		share = left / d.Sorbate
	}
	d.Sorbate, d.SorbicAcid, d.Active, d.Mass = left, d.SorbicAcid*share, d.Active*share, left.In(v)
	return d
}
