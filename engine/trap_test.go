package engine

import (
	"testing"
)

// T8: field efficiency leaves the trip to the pit out. A tanker that hauls does far
// less than the tool's own capacity, and no question is answered with that.
func TestFieldEfficiencyIsNotHauling(t *testing.T) {
	tool, err := FieldCapacity(2, 12, 0.63)
	if err != nil {
		t.Fatal(err)
	}
	r := Answer([]Topic{TopicCycle}, facts(t, "duration(fill)=6_min duration(drive)=8_min duration(return)=7_min duration(spread)=9_min tank_volume=3000_gal application_rate=7000_gal/acre"), nil)
	v := r.result(AreaPerHour, "")
	if v == nil || v.Min >= float64(tool)*0.6 {
		t.Errorf("%v acres an hour with hauling, %g without", v, tool)
	}
}

// Rye is not ryegrass: their rates and bushels are far apart, so neither may stand
// in for the other.
func TestRyeIsNotRyegrass(t *testing.T) {
	rye, grass := CropNamed("cereal rye"), CropNamed("annual ryegrass")
	if rye.Drilled.Lo < 2*grass.Drilled.Hi || rye.Bushel < 2*grass.Bushel || grass.Seeds.Lo < 10*rye.Seeds.Hi {
		t.Error("rye and ryegrass have grown alike")
	}
	if CropNamed("rye") != nil || CropNamed("ryegrass") != nil {
		t.Error("a bare name was taken for a crop")
	}
}

// Imperial gallons are a fifth bigger; an answer never mixes the two up.
func TestImperialGallons(t *testing.T) {
	us := Answer([]Topic{TopicLoad}, facts(t, "tank_volume=3000_gal application_rate=7000_gal/acre"), nil)
	imp := Answer([]Topic{TopicLoad}, facts(t, "tank_volume=3000_imp_gal application_rate=7000_imp_gal/acre"), nil)
	mixed := Answer([]Topic{TopicLoad}, facts(t, "tank_volume=3000_imp_gal application_rate=7000_gal/acre"), nil)
	a, b, c := us.result(AreaPerLoad, "").Min, imp.result(AreaPerLoad, "").Min, mixed.result(AreaPerLoad, "").Min
	if !near(a, b) || c < 1.2*a || c > 1.201*a {
		t.Errorf("%g, %g, %g acres", a, b, c)
	}
}
