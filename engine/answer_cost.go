package engine

import "tankside/engine/unit"

var (
	bySeedCost      = &Formula{"seed_rate × seed_price", "EXACT"}
	byLoadCost      = &Formula{"seed_per_load × seed_price", "EXACT"}
	byFieldCost     = &Formula{"total_seed × seed_price", "EXACT"}
	byFieldCostSaid = &Formula{"area × seed_cost", "EXACT"}
	byWorth         = &Formula{"sum of nutrient × price", "UWEX-VALUE"}
	byWorthLoad     = &Formula{"nutrient_value_per_volume × load_volume ÷ 1000", "UWEX-VALUE"}
	byWorthSpace    = &Formula{"sum of analysis × price", "UWEX-VALUE"}
)

// answerCost answers what the seed costs and what the nutrients are worth,
// whichever prices there are.
func answerCost(w *work, _ int) {
	seed, fert, custom := w.facts.First(SeedPrice) != nil || w.is(SeedCost), w.fertilizerPriced(), w.facts.First(CustomCost) != nil
	if seed {
		w.seedCost()
	}
	if fert {
		w.worth()
	}
	if custom {
		w.customCost()
	}
	if custom || w.focused(TotalCost) {
		w.totalCost(seed)
		return
	}
	if !seed && !fert {
		w.readCrops(cropsOnly)
		w.miss(SeedPrice, w.onlyCrop())
		w.readCrops(someSeed)
	}
}

// onlyCrop is the crop in hand when there is just one.
func (w *work) onlyCrop() string {
	if len(w.out.Crops) == 1 {
		return w.out.Crops[0]
	}
	return ""
}

func (w *work) fertilizerPriced() bool {
	return w.facts.First(NPrice) != nil || w.facts.First(PhosphatePrice) != nil || w.facts.First(PotashPrice) != nil
}

// seedCost puts the seed's cost over all crops, per area, load and field.
func (w *work) seedCost() {
	if cost, ok := w.said(SeedCost, ""); ok {
		if a, ok := w.said(Area, ""); ok {
			w.put(TotalSeedCost, "", cost*a, byFieldCostSaid)
		}
		return
	}
	w.readCrops(someSeed)
	for i := range w.facts {
		w.used[i] = w.used[i] || w.facts[i].Slot == SeedPrice
	}
	var perArea float64
	complete := len(w.out.Missing) == 0
	for i := w.nextSeed(-1); i >= 0; i = w.nextSeed(i) {
		of := w.facts[i].Of
		price, ok := w.ofOrAny(SeedPrice, of)
		if !ok {
			price, ok = w.loosePrice()
		}
		if !ok {
			w.miss(SeedPrice, of)
			complete = false
			continue
		}
		if w.byTheBag(of) {
			bag, known := w.ofOrAny(BagWeight, of)
			if !known || bag <= 0 {
				w.miss(BagWeight, of)
				complete = false
				continue
			}
			price /= bag
		}
		cost, err := CostPerArea(w.seedRate(i), unit.MoneyPerMass(price))
		if w.fail(err) {
			return
		}
		perArea += float64(cost)
	}
	if !complete {
		return
	}
	w.put(SeedCost, "", perArea, bySeedCost)
	if a, ok := w.groundOfLoad(); ok {
		w.put(SeedCostPerLoad, "", perArea*float64(a), byLoadCost)
	}
	if a, ok := w.said(Area, ""); ok {
		w.put(TotalSeedCost, "", perArea*a, byFieldCost)
	}
}

// byTheBag says whether the price of a crop's seed was said for a bag: "$19.50 a bag".
func (w *work) byTheBag(of string) bool {
	f := w.facts.Find(SeedPrice, of)
	if f == nil {
		f = w.facts.First(SeedPrice)
	}
	return f != nil && f.Unit != nil && f.Unit.Dim == unit.DimMoney
}

// loosePrice is the one price there is for the one crop there is, when only the
// price names the crop.
func (w *work) loosePrice() (float64, bool) {
	f := w.facts.First(SeedPrice)
	if f == nil || len(w.facts.Of(SeedRate)) != 1 || len(w.facts.Of(SeedPrice)) != 1 || w.facts.First(SeedRate).Of != "" {
		return 0, false
	}
	return w.said(SeedPrice, f.Of)
}

// pricedNutrient is a nutrient with the lab's slot, its price, and what the crop needs of
// it.
type pricedNutrient struct{ lab, price, target Slot }

var pricedNutrients = [...]pricedNutrient{
	{AnalysisTotalN, NPrice, TargetN},
	{AnalysisPhosphate, PhosphatePrice, TargetPhosphate},
	{AnalysisPotash, PotashPrice, NoSlot},
}

// worth puts what the priced nutrients are worth in the slurry, on the ground and
// in a load. A nutrient counts on the ground only as far as the crop needs it,
// where the need is known.
func (w *work) worth() {
	rate, rated := 0.0, w.has(ApplicationRate)
	if rated {
		rate, _ = w.get(ApplicationRate)
	}
	var perVolume, perArea float64
	priced := false
	for _, n := range pricedNutrients {
		price, ok := w.said(n.price, "")
		if !ok {
			continue
		}
		a, ok := w.counted(n.lab)
		if !ok {
			w.miss(n.lab, "")
			continue
		}
		priced = true
		v, err := ValuePerVolume(a, unit.MoneyPerMass(price))
		if w.fail(err) {
			return
		}
		perVolume += float64(v)
		on := float64(a) * rate / 1000
		if need, ok := w.target(n.target); ok {
			on = min(on, need)
		}
		perArea += on * price
	}
	if priced && len(w.out.Missing) == 0 {
		w.putWorth(perVolume, perArea, rate, rated)
	}
}

func (w *work) target(s Slot) (float64, bool) {
	if s == NoSlot {
		return 0, false
	}
	return w.get(s)
}

// counted is what is worth money of a nutrient: of nitrogen what counts in the
// first year, where that can be told.
func (w *work) counted(s Slot) (unit.MassPerVolume, bool) {
	if s == AnalysisTotalN {
		if lo, _, _, ok := w.available(); ok {
			return lo, true
		}
	}
	return w.lab(s)
}

func (w *work) putWorth(perVolume, perArea, rate float64, rated bool) {
	w.put(NutrientValuePerVolume, "", perVolume, byWorthSpace)
	if !rated {
		return
	}
	w.put(NutrientValue, "", perArea, byWorth)
	if load, ok := w.loadKnown(); ok {
		w.put(NutrientValuePerLoad, "", perArea/rate*float64(load), byWorthLoad)
	}
}
