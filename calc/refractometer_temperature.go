package calc

import "math"

// Where the temperature table of refractometers begins and ends. The printed method
// goes from 5 to 30 °C; 20 °C is where the scale holds.
const (
	minRefractometerCelsius = 5
	maxRefractometerCelsius = 30
	maxRefractometerReading = 75
)

// refractometerColumns are the readings in Brix that the columns of
// refractometerCorrections stand for.
var refractometerColumns = [...]float64{0, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75}

// refractometerCorrections is what to add to the reading, in Brix; a row for each
// degree from 5 to 30 °C, and a shorter row where the table ends at 30 Brix.
//
// From 10 Brix up it is OIV-MA-AS2-02, table I: 5 to 17 °C as printed, 18 to 30 °C
// from memory. The column for 0, which the method has not, is what warmth does to
// the index of water (IAPWS R9-97) over the slope of the scale, 0.001427 per Brix.
//
// At 6 °C and 10 Brix the table is printed with −0.80. Its neighbours above and
// below, −0.82 and −0.74, and the next column, −0.82, call for −0.78, and so does an
// estimate from the density; −0.78 stands here. Three places that could not be read
// are filled in from their neighbours: 13 °C and 20 Brix, 16 °C and 15, 17 °C and 75.
var refractometerCorrections = [...][]float64{
	{-0.64, -0.82, -0.87, -0.92, -0.95, -0.99}, // 5 °C
	{-0.62, -0.78, -0.82, -0.87, -0.90, -0.94},
	{-0.59, -0.74, -0.78, -0.82, -0.84, -0.88},
	{-0.57, -0.69, -0.73, -0.76, -0.79, -0.82},
	{-0.53, -0.64, -0.67, -0.71, -0.73, -0.75},
	{-0.50, -0.59, -0.62, -0.65, -0.67, -0.69, -0.71, -0.72, -0.73, -0.74, -0.75, -0.75, -0.75, -0.75, -0.75}, // 10 °C
	{-0.46, -0.54, -0.57, -0.59, -0.61, -0.63, -0.64, -0.65, -0.66, -0.67, -0.68, -0.68, -0.68, -0.68, -0.67},
	{-0.42, -0.49, -0.51, -0.53, -0.55, -0.56, -0.57, -0.58, -0.59, -0.60, -0.60, -0.61, -0.61, -0.60, -0.60},
	{-0.38, -0.43, -0.45, -0.47, -0.48, -0.50, -0.51, -0.52, -0.52, -0.53, -0.53, -0.53, -0.53, -0.53, -0.53},
	{-0.33, -0.38, -0.39, -0.40, -0.42, -0.43, -0.44, -0.44, -0.45, -0.45, -0.46, -0.46, -0.46, -0.46, -0.45},
	{-0.28, -0.32, -0.33, -0.34, -0.35, -0.36, -0.37, -0.37, -0.38, -0.38, -0.38, -0.38, -0.38, -0.38, -0.38}, // 15 °C
	{-0.23, -0.26, -0.27, -0.28, -0.28, -0.29, -0.30, -0.30, -0.30, -0.31, -0.31, -0.31, -0.31, -0.31, -0.30},
	{-0.18, -0.20, -0.20, -0.21, -0.21, -0.22, -0.22, -0.23, -0.23, -0.23, -0.23, -0.23, -0.23, -0.23, -0.23},
	{-0.12, -0.13, -0.14, -0.14, -0.14, -0.15},
	{-0.06, -0.07, -0.07, -0.07, -0.07, -0.07},
	{0, 0, 0, 0, 0, 0}, // 20 °C
	{0.06, 0.07, 0.07, 0.07, 0.07, 0.07},
	{0.13, 0.14, 0.14, 0.15, 0.15, 0.15},
	{0.20, 0.21, 0.22, 0.22, 0.23, 0.23},
	{0.27, 0.29, 0.29, 0.30, 0.30, 0.31},
	{0.34, 0.36, 0.37, 0.38, 0.38, 0.39}, // 25 °C
	{0.42, 0.44, 0.45, 0.46, 0.46, 0.47},
	{0.50, 0.52, 0.53, 0.54, 0.55, 0.55},
	{0.58, 0.60, 0.61, 0.62, 0.63, 0.64},
	{0.66, 0.68, 0.69, 0.71, 0.72, 0.72},
	{0.74, 0.77, 0.78, 0.79, 0.80, 0.81}, // 30 °C
}

// CorrectRefractometer returns what a refractometer without compensation of its own,
// reading b at the sample's temperature, would show at 20 °C: the reading plus the
// correction of the table, both ways linear between its lines.
//
// The table is for a must or a sugar solution. A drink with alcohol loses a little
// more refraction as it warms: at 12 % vol the correction is some 0.07 Brix short
// for 5 degrees (estimated from the densities), so rather bring such a sample to 20
// °C. An instrument that compensates by itself must not be corrected again. It is
// another table than that of hydrometers: 10 Brix at 30 °C need 0.77 here and 0.66
// there.
//
// b from 0 to 30 Brix with t from 5 to 30 °C, and to 75 Brix from 10 °C up; otherwise
// the error wraps [ErrOutOfRange] or [ErrNotANumber]. Above 17 °C the correction for
// 30 Brix is taken for all beyond: below that it changes by 0.06 at most up to 75.
//
// Source: OIV-MA-AS2-02, table I. 15 Brix at 15 °C are 14.67.
func CorrectRefractometer(b Brix, sample Celsius) (Brix, error) {
	if err := inRange("sample temperature", float64(sample), minRefractometerCelsius, maxRefractometerCelsius, " °C"); err != nil {
		return 0, err
	}
	most := float64(maxRefractometerReading)
	if sample < 10 {
		most = 30
	}
	if err := inRange("refractometer reading", float64(b), 0, most, " Brix"); err != nil {
		return 0, err
	}
	below := int(math.Floor(float64(sample))) - minRefractometerCelsius
	above := min(below+1, len(refractometerCorrections)-1)
	lo := refractometerCorrection(refractometerCorrections[below], float64(b))
	hi := refractometerCorrection(refractometerCorrections[above], float64(b))
	part := float64(sample) - math.Floor(float64(sample))
	return b + Brix(lo+part*(hi-lo)), nil
}

// refractometerCorrection reads a row of the table at b Brix; the last figure of a
// row holds for all beyond it.
func refractometerCorrection(row []float64, b float64) float64 {
	for i := 1; i < len(row); i++ {
		if left, right := refractometerColumns[i-1], refractometerColumns[i]; b <= right {
			return row[i-1] + (b-left)/(right-left)*(row[i]-row[i-1])
		}
	}
	return row[len(row)-1]
}
