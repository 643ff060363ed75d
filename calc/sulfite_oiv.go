package calc

// The OIV's mixed pK of SO2 at ionic strength 0.038, by strength and temperature:
// OIV-MA-AS323-04C, table II, after Usseglio-Tomasset. The table is from memory;
// its difference from table I, which was read but for the row of 20 % vol, is the
// Debye-Hückel term in every cell.
//
// It moves by 0.2 for each 5 °C, while the heat of dissociation of SO2 gives 0.05:
// treat its columns for warmth with doubt. The trend with alcohol at 20 °C is the
// part to use.
var (
	oivABV     = []float64{0, 5, 10, 15, 20}
	oivCelsius = []float64{20, 25, 30, 35, 40}
	oivPKM     = [5][5]float64{
		{1.723, 1.925, 2.143, 2.257, 2.416},
		{1.819, 2.020, 2.220, 2.317, 2.446},
		{1.916, 2.116, 2.311, 2.405, 2.522},
		{2.014, 2.216, 2.417, 2.520, 2.640},
		{2.114, 2.317, 2.538, 2.663, 2.803},
	}
)

// MolecularSO2AtStrength is [MolecularSO2] with the pK that the OIV gives for this
// strength and temperature, linear between the points of its table. A dose is
// reckoned without it: this is the careful reader's second figure.
//
// free from 0 to 2000 mg/L, ph from 2.8 to 4.2, abv from 0 to 20 % vol, t from 20 to
// 40 °C; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
//
// Source: OIV-MA-AS323-04C, table II. Of 32 mg/L at pH 3.4, 12 % vol and 20 °C, 1.11
// are molecular, where the plain formula says 0.80.
func MolecularSO2AtStrength(free MilligramPerLitre, ph PH, abv PercentVol, t Celsius) (MilligramPerLitre, error) {
	if err := inRangeSulfite("free SO2", free, maxSO2, ph); err != nil {
		return 0, err
	}
	pk, err := oivPK(abv, t)
	if err != nil {
		return 0, err
	}
	return free * molecularShare(ph, pk), nil
}

// FreeSO2AtStrength returns the free SO2 in which so much is molecular by the OIV's
// pK, the inverse of [MolecularSO2AtStrength].
//
// molecular from 0 to 5 mg/L, the rest as there. For 0.8 at pH 3.5, 12 % vol and
// 20 °C it is 28.8 mg/L, where [FreeSO2For] says 40.
func FreeSO2AtStrength(molecular MilligramPerLitre, ph PH, abv PercentVol, t Celsius) (MilligramPerLitre, error) {
	if err := inRangeSulfite("molecular SO2", molecular, maxMolecularSO2, ph); err != nil {
		return 0, err
	}
	pk, err := oivPK(abv, t)
	if err != nil {
		return 0, err
	}
	return molecular / molecularShare(ph, pk), nil
}

func oivPK(abv PercentVol, t Celsius) (float64, error) {
	last := len(oivPKM) - 1
	if err := inRange("strength", float64(abv), oivABV[0], oivABV[last], " % vol"); err != nil {
		return 0, err
	}
	if err := inRange("temperature", float64(t), oivCelsius[0], oivCelsius[last], " °C"); err != nil {
		return 0, err
	}
	at := func(i, j int) float64 { return oivPKM[i][j] }
	return bilinear(oivABV, oivCelsius, at, float64(abv), float64(t)), nil
}
