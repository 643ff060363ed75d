package calc

type (
	// Bar is an absolute pressure, from vacuum; 1 bar is 100 kPa.
	Bar float64

	// BarGauge is a pressure above that of the atmosphere at sea level: what a
	// gauge on a keg shows and what a bottle has to hold.
	BarGauge float64
)

// StandardAtmosphere is the pressure of the air at sea level, by definition. Each
// 1000 m of height take about a ninth off.
const StandardAtmosphere Bar = BarPerAtmosphere

// Units people use. The psi is exact: 0.45359237 kg · 9.80665 m/s² over (0.0254 m)²
// (NIST Special Publication 811).
const (
	BarPerPSI        = 0.45359237 * 9.80665 / (0.0254 * 0.0254) / 1e5
	BarPerKilopascal = 0.01
	BarPerAtmosphere = 1.01325
)

// Gauge returns p above the atmosphere: p − 1.01325.
func (p Bar) Gauge() BarGauge { return BarGauge(p - StandardAtmosphere) }

// Absolute returns g from vacuum: g + 1.01325.
func (g BarGauge) Absolute() Bar { return Bar(g) + StandardAtmosphere }

// PSI returns a gauge pressure of x pounds per square inch: 30 psi are 2.068 bar.
func PSI(x float64) BarGauge { return BarGauge(x * BarPerPSI) }

// PSI returns g in pounds per square inch: 1 bar is 14.504 psi.
func (g BarGauge) PSI() float64 { return float64(g) / BarPerPSI }
