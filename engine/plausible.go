package engine

import "tankside/engine/unit"

// Fit is how a value stands to its usual band.
type Fit uint8

// The fits.
const (
	Fine    Fit = iota
	Unusual     // outside the band: named, and confirmed before it is logged
	TooFar      // beyond ten times the band: refused
	NotPos      // zero or negative where that cannot be: refused
)

// band is a usual range in the unit that it is written in. Zero says that zero
// is a value like any other.
type band struct {
	lo, hi float64
	in     *unit.Unit
	zero   bool
}

var (
	gal, acre, pound  = unit.Must("gal"), unit.Must("acre"), unit.Must("lb")
	gpm, gpa, lbAcre  = unit.Must("gal/min"), unit.Must("gal/acre"), unit.Must("lb/acre")
	foot, mph, minute = unit.Must("ft"), unit.Must("mph"), unit.Must("min")
	percent, bare     = unit.Must("%"), unit.Must("")
	analysis, dollar  = unit.Must("lb/1000gal"), unit.Must("$/lb")
)

// usual is the one table of plausible bands: what operators have and do, common
// practice. It is wide on purpose; what lies outside is named, not forbidden.
var usual = [numSlots]band{
	TankVolume:         {200, 20000, gal, false},
	LoadVolume:         {20, 20000, gal, false},
	HeelVolume:         {0, 2000, gal, true},
	TotalVolume:        {200, 50e6, gal, false},
	PailVolume:         {1, 300, gal, false},
	JarVolume:          {0.06, 1.5, gal, false}, // a cup to something over a gallon
	SeedsPerWeight:     {800, 3e6, perPound, false},
	ApplicationRate:    {200, 60000, gpa, false},
	SeedRate:           {0.5, 300, lbAcre, false}, // of a known crop: see Usual
	Area:               {0.05, 5000, acre, false},
	AreaPerLoad:        {0.01, 100, acre, false},
	AreaDone:           {0.01, 5000, acre, true},
	AreaLeft:           {0.01, 5000, acre, true},
	Flow:               {20, 10000, gpm, false},
	PumpFlow:           {20, 10000, gpm, false},
	BypassFlow:         {1, 10000, gpm, false},
	Speed:              {0.3, 12, mph, false},
	Width:              {3, 80, foot, false},
	Distance:           {10, 52800, foot, false},
	RunLength:          {10, 52800, foot, false},
	UnloadTime:         {0.5, 120, minute, false},
	TurnoverTime:       {0.1, 120, minute, false},
	MixingTime:         {0.1, 240, minute, false},
	Duration:           {0.05, 960, minute, false}, // parts of a cycle and times to incorporation: see Usual
	CycleTime:          {3, 480, minute, false},
	TotalTime:          {10, 30 * 1440, minute, false},
	Purity:             {30, 100, percent, false},
	Germination:        {30, 100, percent, false},
	HardSeed:           {0, 70, percent, true},
	TubeVolume:         {0.1, 200, gal, false},
	Tubes:              {1, 80, bare, false},
	BypassShare:        {3, 97, percent, true},
	Coating:            {0, 60, percent, true},
	SeedShare:          {1, 150, percent, false},
	PureLiveSeed:       {20, 100, percent, false},
	LoadFraction:       {0.02, 1, bare, false},
	LoadCount:          {0.1, 2000, bare, false},
	Loads:              {0.1, 5000, bare, false},
	Tankers:            {1, 30, bare, false},
	SeedPerLoad:        {0.1, 5000, pound, false},
	TotalSeed:          {0.5, 300000, pound, false},
	BagWeight:          {2, 2500, pound, false},
	BagCount:           {0.5, 5000, bare, false},
	AnalysisTotalN:     {0.5, 120, analysis, false},
	AnalysisAvailableN: {0.5, 120, analysis, false},
	AnalysisAmmoniumN:  {0, 100, analysis, true},
	AnalysisOrganicN:   {0, 100, analysis, true},
	AnalysisPhosphate:  {0, 120, analysis, true},
	AnalysisPotash:     {0, 120, analysis, true},
	TargetN:            {5, 400, lbAcre, false},
	TargetPhosphate:    {2, 300, lbAcre, false},
	AnalysisPhosphorus: {0, 52, analysis, true}, // as P2O5 and K2O, in the elements
	AnalysisPotassium:  {0, 100, analysis, true},
	TargetPhosphorus:   {1, 130, lbAcre, false},
	LimitN:             {5, 600, lbAcre, false},
	LimitPhosphate:     {2, 400, lbAcre, false},
	LimitPhosphorus:    {1, 175, lbAcre, false},
	Depth:              {0.005, 2, unit.Must("in"), false},
	GateOpening:        {0.05, 360, bare, true},
	GrossWeight:        {500, 250000, pound, false},
	TareWeight:         {0, 100000, pound, true},
	NetWeight:          {10, 200000, pound, false},
	Density:            {7.5, 10.5, unit.Must("lb/gal"), false},
	SampleCount:        {0, 5000, bare, true},
	SeedPrice:          {0.05, 30000, dollar, false}, // in whatever money: a kilo can cost thousands of pesos
	SeedCost:           {0, 3e6, unit.Must("$/acre"), true},
	CustomCost:         {0, 3e6, unit.Must("$/acre"), true}, // by whatever it is charged, in whatever money
	AreaPerHour:        {0.05, 100, unit.Must("acre/h"), false},
	NPrice:             {0.1, 5, dollar, true},
	PhosphatePrice:     {0.1, 5, dollar, true},
	PotashPrice:        {0.1, 5, dollar, true},
	Slope:              {0, 40, percent, true},
	PTOSpeed:           {200, 1200, bare, false},
	RatedPTOSpeed:      {500, 1200, bare, false},
	ApplicationTime:    {0, 1440 * 30, minute, true},
	SoilTemperature:    {20, 110, unit.Must("°F"), true},
}

// farther is how many times past its band a value is refused.
const farther = 10

// Usual returns the plausible band of a slot in base units; of is the crop for
// seed, the part of the cycle for durations. ok is false where anything goes.
func Usual(s Slot, of string) (lo, hi float64, ok bool) {
	if s >= numSlots {
		return 0, 0, false
	}
	b := &usual[s]
	if b.in == nil {
		return 0, 0, false
	}
	lo, hi = b.in.ToBase(b.lo), b.in.ToBase(b.hi)
	switch {
	case s == SeedRate:
		// A share in a mix goes far below the drilled rate; twice the highest
		// published rate is the contract's upper end.
		if c := CropNamed(of); c != nil {
			lo, hi = c.Drilled.Lo/10, 2*c.HighestRate()
		}
	case s == Duration && of == "incorporation":
		lo, hi = 0, 1440*30
	case s == Duration && of == "day": // working hours of one
		lo, hi = 120, 16*60
	case s == Duration && of != "":
		lo, hi = 0.25, 240
	}
	return lo, hi, true
}

// Plausible judges a fact against its band. A range is as bad as its worse end.
func Plausible(f *Fact) Fit {
	lo, hi := value(f)
	return max(fit(f, lo), fit(f, hi))
}

func fit(f *Fact, v float64) Fit {
	if !isFinite(v) {
		return TooFar
	}
	lo, hi, ok := Usual(f.Slot, f.Of)
	switch {
	case f.Slot == SoilTemperature:
		return fitTemperature(v, lo, hi)
	case !ok:
		return Fine
	case v < 0, v == 0 && !zeroAllowed(f):
		return NotPos
	case v == 0:
		return Fine
	case overWhole(f.Slot, v), v > hi*farther, v < lo/farther:
		return TooFar
	case v > hi*(1+snap), v < lo*(1-snap):
		return Unusual
	}
	return Fine
}

// zeroAllowed: a heel, a nutrient, a delay, a jar may be nothing.
func zeroAllowed(f *Fact) bool {
	return usual[f.Slot].zero || f.Slot == Duration && f.Of != ""
}

// overWhole says whether a share is above all there is.
func overWhole(s Slot, v float64) bool {
	return v > 1+snap && (s == BypassShare || s == Purity || s == Germination || s == HardSeed || s == Coating)
}

// fitTemperature: below zero is weather, not a slip.
func fitTemperature(v, lo, hi float64) Fit {
	switch {
	case v < -60 || v > 160:
		return TooFar
	case v < lo || v > hi:
		return Unusual
	}
	return Fine
}
