package engine

import (
	"fmt"

	"tankside/engine/unit"
)

// Slot is a quantity of the job, named as in the answer contract.
type Slot uint8

// The slots, in the order of the contract's table; then those that can only be
// said. NoSlot is the zero value and means "none".
const (
	NoSlot Slot = iota
	TankVolume
	LoadVolume
	ApplicationRate
	SeedRate
	Area
	AreaPerLoad
	SeedPerLoad
	TotalSeed
	TotalVolume
	Loads
	FullLoads
	LastLoadVolume
	LastLoadSeed
	Flow
	PumpFlow
	BypassFlow
	TurnoverTime
	MixingTime
	Speed
	Width
	UnloadTime
	RunLength
	Distance
	Duration
	CycleTime
	LoadsPerHour
	AreaPerHour
	TotalTime
	Purity
	Germination
	PureLiveSeed
	BulkSeedRate
	SeedsPerArea
	SeedsPerVolume
	Pails
	SoakWater
	TotalN
	AmmoniumN
	OrganicN
	AvailableN
	Phosphate
	Potash
	TotalNPerLoad
	AmmoniumNPerLoad
	OrganicNPerLoad
	AvailableNPerLoad
	PhosphatePerLoad
	PotashPerLoad
	AnalysisTotalN
	AnalysisAmmoniumN
	AnalysisOrganicN
	AnalysisPhosphate
	AnalysisPotash
	TargetN
	TargetPhosphate
	Depth
	GateOpening
	GrossWeight
	TareWeight
	NetWeight
	SampleMean
	SampleCV
	SeedCost
	NutrientValue
	SeedCostPerLoad
	NutrientValuePerLoad
	NutrientValuePerVolume
	Converted
	UsualRate
	SeedingDepth
	SeedsPerWeight
	LoadCount
	AreaDone
	AreaLeft
	LoadsLeft
	VolumeUsed
	SeedUsed

	// Said, or extra results, beyond the contract's table.
	LoadFraction // part of a tank
	SeedShare    // of a crop's full rate, in a mix
	HardSeed
	Coating
	SampleCount // one jar's count
	SeedPrice
	NPrice
	PhosphatePrice
	PotashPrice
	BagWeight
	BagCount
	HeelVolume
	Density
	Slope
	SoilTemperature
	PailVolume
	CropSaid // a crop named without an amount
	Tankers
	TotalSeedCost
	SeedLeft
	SampleDispersion // index of dispersion against chance
	SampleP          // how likely chance alone makes counts this uneven
	SampleK          // k of the tank model
	PercentOff       // measured rate against the wanted one
	MarkerLoads      // how many loads a crew ran per hour so far (pace)
	DaysToEmerge
	SoilRoom // liquid that the top of the soil can still take
	SeedPerVolume
	ApplicationTime // hours until worked in
	PTOSpeed
	RatedPTOSpeed
	TubeVolume         // what one drop tube gave in a measured time
	Tubes              // drop tubes that the flow leaves through
	BypassShare        // part of the pump's flow that returns to the tank
	AnalysisAvailableN // what the lab or adviser says counts in the first year
	JarVolume          // one sample jar, filled
	ExpectedCount      // seeds that an even mix puts in one jar
	AnalysisPhosphorus // P by the element, where the sheet has that instead of P2O5
	AnalysisPotassium  // K by the element
	TargetPhosphorus   // what the crop is to get, by the element
	LimitN             // the most that a rule or plan allows
	LimitPhosphate
	LimitPhosphorus // the same by the element
	CustomCost      // what the work costs or is charged at: by area, hour, load or volume; answered by area
	TotalCustomCost
	TotalCost // seed and work, by area
	TotalFieldCost
	BagsPerLoad
	BagsUsed // what went on so far, in bags
	BagsLeft // what the rest of the field takes, in bags
	WorkDays // working days that the hauling takes

	numSlots
)

// info is what the contract's table says of a slot.
type info struct {
	name       string
	dim        unit.Dim
	us, metric string // the unit it is answered in; imperial follows from us
}

var slots = [numSlots]info{
	TankVolume:      {"tank_volume", unit.DimVolume, "gal", "L"},
	LoadVolume:      {"load_volume", unit.DimVolume, "gal", "L"},
	ApplicationRate: {"application_rate", unit.DimVolumePerArea, "gal/acre", "m3/ha"},
	SeedRate:        {"seed_rate", unit.DimMassPerArea, "lb/acre", "kg/ha"},
	Area:            {"area", unit.DimArea, "acre", "ha"},
	AreaPerLoad:     {"area_per_load", unit.DimArea, "acre", "ha"},
	SeedPerLoad:     {"seed_per_load", unit.DimMass, "lb", "kg"},
	TotalSeed:       {"total_seed", unit.DimMass, "lb", "kg"},
	TotalVolume:     {"total_volume", unit.DimVolume, "gal", "L"},
	Loads:           {"loads", unit.None, "", ""},
	FullLoads:       {"full_loads", unit.None, "", ""},
	LastLoadVolume:  {"last_load_volume", unit.DimVolume, "gal", "L"},
	LastLoadSeed:    {"last_load_seed", unit.DimMass, "lb", "kg"},
	Flow:            {"flow", unit.DimFlow, "gal/min", "L/min"},
	PumpFlow:        {"pump_flow", unit.DimFlow, "gal/min", "L/min"},
	BypassFlow:      {"bypass_flow", unit.DimFlow, "gal/min", "L/min"},
	TurnoverTime:    {"turnover_time", unit.DimTime, "min", "min"},
	MixingTime:      {"mixing_time", unit.DimTime, "min", "min"},
	Speed:           {"speed", unit.DimSpeed, "mph", "km/h"},
	Width:           {"width", unit.DimLength, "ft", "m"},
	UnloadTime:      {"unload_time", unit.DimTime, "min", "min"},
	RunLength:       {"run_length", unit.DimLength, "ft", "m"},
	Distance:        {"distance", unit.DimLength, "ft", "m"},
	Duration:        {"duration", unit.DimTime, "min", "min"},
	CycleTime:       {"cycle_time", unit.DimTime, "min", "min"},
	LoadsPerHour:    {"loads_per_hour", unit.DimFrequency, "1/h", "1/h"},
	AreaPerHour:     {"area_per_hour", unit.DimAreaPerTime, "acre/h", "ha/h"},
	TotalTime:       {"total_time", unit.DimTime, "h", "h"},
	WorkDays:        {"work_days", unit.None, "", ""},
	Purity:          {"purity", unit.DimFraction, "%", "%"},
	Germination:     {"germination", unit.DimFraction, "%", "%"},
	PureLiveSeed:    {"pure_live_seed", unit.DimFraction, "%", "%"},
	BulkSeedRate:    {"bulk_seed_rate", unit.DimMassPerArea, "lb/acre", "kg/ha"},
	SeedsPerArea:    {"seeds_per_area", unit.DimCountPerArea, "seeds/ft2", "seeds/m2"},
	SeedsPerVolume:  {"seeds_per_volume", unit.DimCountPerVolume, "seeds/gal", "seeds/L"},
	Pails:           {"pails", unit.None, "", ""},
	SoakWater:       {"soak_water", unit.DimVolume, "gal", "L"},

	TotalN:            {"total_n", unit.DimMassPerArea, "lb/acre", "kg/ha"},
	AmmoniumN:         {"ammonium_n", unit.DimMassPerArea, "lb/acre", "kg/ha"},
	OrganicN:          {"organic_n", unit.DimMassPerArea, "lb/acre", "kg/ha"},
	AvailableN:        {"available_n", unit.DimMassPerArea, "lb/acre", "kg/ha"},
	Phosphate:         {"phosphate", unit.DimMassPerArea, "lb/acre", "kg/ha"},
	Potash:            {"potash", unit.DimMassPerArea, "lb/acre", "kg/ha"},
	TotalNPerLoad:     {"total_n_per_load", unit.DimMass, "lb", "kg"},
	AmmoniumNPerLoad:  {"ammonium_n_per_load", unit.DimMass, "lb", "kg"},
	OrganicNPerLoad:   {"organic_n_per_load", unit.DimMass, "lb", "kg"},
	AvailableNPerLoad: {"available_n_per_load", unit.DimMass, "lb", "kg"},
	PhosphatePerLoad:  {"phosphate_per_load", unit.DimMass, "lb", "kg"},
	PotashPerLoad:     {"potash_per_load", unit.DimMass, "lb", "kg"},
	AnalysisTotalN:    {"analysis_total_n", unit.DimMassPerVolume, "lb/1000gal", "kg/m3"},
	AnalysisAmmoniumN: {"analysis_ammonium_n", unit.DimMassPerVolume, "lb/1000gal", "kg/m3"},
	AnalysisOrganicN:  {"analysis_organic_n", unit.DimMassPerVolume, "lb/1000gal", "kg/m3"},
	AnalysisPhosphate: {"analysis_phosphate", unit.DimMassPerVolume, "lb/1000gal", "kg/m3"},
	AnalysisPotash:    {"analysis_potash", unit.DimMassPerVolume, "lb/1000gal", "kg/m3"},
	TargetN:           {"target_n", unit.DimMassPerArea, "lb/acre", "kg/ha"},
	TargetPhosphate:   {"target_phosphate", unit.DimMassPerArea, "lb/acre", "kg/ha"},

	Depth:                  {"depth", unit.DimLength, "in", "mm"},
	GateOpening:            {"gate_opening", unit.None, "", ""},
	GrossWeight:            {"gross_weight", unit.DimMass, "lb", "kg"},
	TareWeight:             {"tare_weight", unit.DimMass, "lb", "kg"},
	NetWeight:              {"net_weight", unit.DimMass, "lb", "kg"},
	SampleMean:             {"sample_mean", unit.None, "", ""},
	SampleCV:               {"sample_cv", unit.DimFraction, "%", "%"},
	SeedCost:               {"seed_cost", unit.DimMoneyPerArea, "$/acre", "$/ha"},
	NutrientValue:          {"nutrient_value", unit.DimMoneyPerArea, "$/acre", "$/ha"},
	SeedCostPerLoad:        {"seed_cost_per_load", unit.DimMoney, "$", "$"},
	NutrientValuePerLoad:   {"nutrient_value_per_load", unit.DimMoney, "$", "$"},
	NutrientValuePerVolume: {"nutrient_value_per_volume", unit.DimMoneyPerVolume, "$/1000gal", "$/m3"},
	Converted:              {"converted", unit.None, "", ""},
	UsualRate:              {"usual_rate", unit.DimMassPerArea, "lb/acre", "kg/ha"},
	SeedingDepth:           {"seeding_depth", unit.DimLength, "in", "cm"},
	SeedsPerWeight:         {"seeds_per_weight", unit.DimCountPerMass, "seeds/lb", "seeds/kg"},
	LoadCount:              {"load_count", unit.None, "", ""},
	AreaDone:               {"area_done", unit.DimArea, "acre", "ha"},
	AreaLeft:               {"area_left", unit.DimArea, "acre", "ha"},
	LoadsLeft:              {"loads_left", unit.None, "", ""},
	VolumeUsed:             {"volume_used", unit.DimVolume, "gal", "L"},
	SeedUsed:               {"seed_used", unit.DimMass, "lb", "kg"},

	LoadFraction:       {"load_fraction", unit.None, "", ""},
	SeedShare:          {"seed_share", unit.DimFraction, "%", "%"},
	HardSeed:           {"hard_seed", unit.DimFraction, "%", "%"},
	Coating:            {"coating", unit.DimFraction, "%", "%"},
	SampleCount:        {"sample_count", unit.None, "", ""},
	SeedPrice:          {"seed_price", unit.DimMoneyPerMass, "$/lb", "$/kg"},
	NPrice:             {"n_price", unit.DimMoneyPerMass, "$/lb", "$/kg"},
	PhosphatePrice:     {"phosphate_price", unit.DimMoneyPerMass, "$/lb", "$/kg"},
	PotashPrice:        {"potash_price", unit.DimMoneyPerMass, "$/lb", "$/kg"},
	BagWeight:          {"bag_weight", unit.DimMass, "lb", "kg"},
	BagCount:           {"bag_count", unit.None, "", ""},
	HeelVolume:         {"heel_volume", unit.DimVolume, "gal", "L"},
	Density:            {"density", unit.DimMassPerVolume, "lb/gal", "kg/L"},
	Slope:              {"slope", unit.DimFraction, "%", "%"},
	SoilTemperature:    {"soil_temperature", unit.DimTemperature, "°F", "°C"},
	PailVolume:         {"pail_volume", unit.DimVolume, "gal", "L"},
	CropSaid:           {"crop", unit.None, "", ""},
	Tankers:            {"tankers", unit.None, "", ""},
	TotalSeedCost:      {"total_seed_cost", unit.DimMoney, "$", "$"},
	SeedLeft:           {"seed_left", unit.DimMass, "lb", "kg"},
	SampleDispersion:   {"sample_dispersion", unit.None, "", ""},
	SampleP:            {"sample_p", unit.None, "", ""},
	SampleK:            {"sample_k", unit.None, "", ""},
	PercentOff:         {"percent_off", unit.DimFraction, "%", "%"},
	MarkerLoads:        {"pace", unit.DimFrequency, "1/h", "1/h"},
	DaysToEmerge:       {"days_to_emerge", unit.None, "", ""},
	SoilRoom:           {"soil_room", unit.DimVolumePerArea, "gal/acre", "m3/ha"},
	SeedPerVolume:      {"seed_per_volume", unit.DimMassPerVolume, "lb/1000gal", "kg/m3"},
	ApplicationTime:    {"incorporation_time", unit.DimTime, "h", "h"},
	PTOSpeed:           {"pto_speed", unit.None, "", ""},
	RatedPTOSpeed:      {"rated_pto_speed", unit.None, "", ""},
	TubeVolume:         {"tube_volume", unit.DimVolume, "gal", "L"},
	Tubes:              {"tubes", unit.None, "", ""},
	BypassShare:        {"bypass_share", unit.DimFraction, "%", "%"},
	AnalysisAvailableN: {"analysis_available_n", unit.DimMassPerVolume, "lb/1000gal", "kg/m3"},
	JarVolume:          {"jar_volume", unit.DimVolume, "qt", "L"},
	ExpectedCount:      {"expected_count", unit.None, "", ""},
	AnalysisPhosphorus: {"analysis_phosphorus", unit.DimMassPerVolume, "lb/1000gal", "kg/m3"},
	AnalysisPotassium:  {"analysis_potassium", unit.DimMassPerVolume, "lb/1000gal", "kg/m3"},
	TargetPhosphorus:   {"target_phosphorus", unit.DimMassPerArea, "lb/acre", "kg/ha"},
	LimitN:             {"limit_n", unit.DimMassPerArea, "lb/acre", "kg/ha"},
	LimitPhosphate:     {"limit_phosphate", unit.DimMassPerArea, "lb/acre", "kg/ha"},
	LimitPhosphorus:    {"limit_phosphorus", unit.DimMassPerArea, "lb/acre", "kg/ha"},
	CustomCost:         {"custom_cost", unit.DimMoneyPerArea, "$/acre", "$/ha"},
	TotalCustomCost:    {"total_custom_cost", unit.DimMoney, "$", "$"},
	TotalCost:          {"total_cost", unit.DimMoneyPerArea, "$/acre", "$/ha"},
	TotalFieldCost:     {"total_field_cost", unit.DimMoney, "$", "$"},
	BagsPerLoad:        {"bags_per_load", unit.None, "", ""},
	BagsUsed:           {"bags_used", unit.None, "", ""},
	BagsLeft:           {"bags_left", unit.None, "", ""},
}

// String is the contract's name of the slot.
func (s Slot) String() string { return slots[s].name }

// Dim is what the slot measures.
func (s Slot) Dim() unit.Dim { return slots[s].dim }

// SlotNamed finds a slot by the contract's name; NoSlot when there is none.
func SlotNamed(name string) Slot { return slotByName[name] }

// Slots lists every slot.
func Slots() []Slot {
	out := make([]Slot, 0, numSlots-1)
	for s := NoSlot + 1; s < numSlots; s++ {
		out = append(out, s)
	}
	return out
}

var slotByName = func() map[string]Slot {
	m := make(map[string]Slot, numSlots)
	for s := NoSlot + 1; s < numSlots; s++ {
		m[slots[s].name] = s
	}
	return m
}()

// Units is how a chat wants its answers: the system, and within the metric one
// whether large volumes and rates are in cubic metres or in litres.
type Units struct {
	System unit.System
	Litres bool // rates in L/ha; the default metric rate is m3/ha
	Cubes  bool // volumes in m3; the default metric volume is the litre
	Comma  bool // decimals stand behind a comma and thousands behind a point: 1.250,5
}

// UnitFor is the unit that s is answered in.
func (u Units) UnitFor(s Slot) *unit.Unit {
	switch i := slots[s]; {
	case u.System == unit.US:
		return usUnit[s]
	case u.System == unit.Imperial:
		return impUnit[s]
	case u.Litres && i.dim == unit.DimVolumePerArea:
		return litresPerHectare
	case u.Cubes && i.dim == unit.DimVolume && s != SoakWater && s != PailVolume && s != JarVolume:
		return cubicMetre
	}
	return metricUnit[s]
}

var (
	litresPerHectare            = unit.Must("L/ha")
	cubicMetre                  = unit.Must("m3")
	usUnit, impUnit, metricUnit = unitTables()
)

var imperialOf = map[string]string{"gal": "imp gal", "gal/acre": "imp gal/acre", "gal/min": "imp gal/min", "qt": "imp qt",
	"seeds/gal": "seeds/imp gal", "lb/1000gal": "lb/1000imp gal"}

func unitTables() (us, imp, metric [numSlots]*unit.Unit) {
	for s, i := range slots {
		us[s], metric[s], imp[s] = unit.Must(i.us), unit.Must(i.metric), unit.Must(i.us)
		if name := imperialOf[i.us]; name != "" {
			imp[s] = unit.Must(name)
		}
	}
	return us, imp, metric
}

// MarshalText writes the contract's name, so that stored facts survive a change
// of the slots' order.
func (s Slot) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads a contract name.
func (s *Slot) UnmarshalText(b []byte) error {
	if *s = SlotNamed(string(b)); *s == NoSlot && len(b) > 0 {
		return fmt.Errorf("no quantity %q", b)
	}
	return nil
}
