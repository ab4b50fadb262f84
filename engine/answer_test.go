package engine

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"tankside/engine/unit"
)

// answerCase is one question: what it gives, misses, notes and refuses.
type answerCase struct {
	topic Topic
	facts string
	gives string // as facts; a "limit:" before a slot wants it as a bound
	miss  string
	fails string // problem code
	notes string
	not   string // slots that must not be given
	c     *Context
}

var runs = []Run{{Opening: 2, Flow: 300}, {Opening: 4, Flow: 620}, {Opening: 6, Flow: 900}, {Opening: 1, Flow: 999, Outlet: "wide bar"}}

var answerCases = []answerCase{
	// load, part load
	{topic: TopicLoad, facts: "tank_volume=3000_gal application_rate=7000_gal/acre seed_rate(annual_ryegrass)=12_lb/acre",
		gives: "area_per_load=0.428571_acre seed_per_load(annual_ryegrass)=5.142857_lb pails=1 soak_water=3.005176_gal", notes: "presoak"},
	{topic: TopicLoad, facts: "tank_volume=3000_gal heel_volume=200_gal application_rate=7000_gal/acre", gives: "load_volume=2800_gal area_per_load=0.4_acre", notes: "heel_counts"},
	{topic: TopicLoad, facts: "tank_volume=3000_gal load_fraction=0.9 heel_volume=200_gal application_rate=7000_gal/acre", gives: "load_volume=2500_gal"},
	{topic: TopicLoad, facts: "tank_volume=2500_imp_gal application_rate=3000_imp_gal/acre", gives: "area_per_load=0.833333_acre"},
	{topic: TopicLoad, facts: "tank_volume=4000_gal application_rate=8000_gal/acre seed_rate(oats)=2_bu/acre", gives: "seed_per_load(oats)=32_lb", notes: "test_weight check_passage"},
	{topic: TopicLoad, facts: "tank_volume=3000_gal application_rate=7000_gal/acre crop(oats)", gives: "area_per_load=0.428571_acre", miss: "seed_rate"},
	{topic: TopicLoad, facts: "tank_volume=3000_gal application_rate=7000_gal/acre", miss: "seed_rate", c: &Context{Focus: []Slot{SeedPerLoad}}},
	{topic: TopicLoad, facts: "crop(oats)", miss: "tank_volume application_rate seed_rate"},
	{topic: TopicLoad, facts: "tank_volume=3000_gal application_rate=7000_gal/acre load_count=2 seed_rate(red_clover)=10_lb/acre", gives: "total_volume=6000_gal total_seed(red_clover)=8.571429_lb", notes: "straight_in"},
	{topic: TopicLoad, facts: "tank_volume=3000_gal application_rate=7000_gal/acre width=12_ft flow=600_gal/min", gives: "run_length=1555.714_ft speed=3.535714_mph unload_time=5_min"},
	{topic: TopicLoad, facts: "tank_volume=3000_gal application_rate=7000_gal/acre area=40_acre", gives: "area_per_load=0.428571_acre loads=93.333333"},
	{topic: TopicLoad, facts: "tank_volume=3000_gal application_rate=7000_gal/acre seed_rate(flax)=30_lb/acre", notes: "poor_fit no_presoak", not: "pails"},
	{topic: TopicLoad, facts: "tank_volume=3000_gal application_rate=7000_gal/acre seed_rate(cereal_rye)=12_lb/acre", notes: "unusual_seed_rate"},
	{topic: TopicLoad, facts: "tank_volume=30000_gal application_rate=7000_gal/acre", gives: "area_per_load=4.285714_acre", notes: "unusual_value"},
	{topic: TopicLoad, facts: "tank_volume=3_gal application_rate=7000_gal/acre", fails: Absurd, not: "area_per_load"},
	{topic: TopicLoad, facts: "tank_volume=0_gal application_rate=7000_gal/acre", fails: NotPositive, not: "area_per_load"},
	{topic: TopicLoad, facts: "tank_volume=3000_gal tank_volume=4000_gal application_rate=7000_gal/acre", fails: ConflictCode},
	{topic: TopicLoad, facts: "tank_volume=3000_gal application_rate=7000_gal/acre area_per_load=0.5_acre", fails: ConflictCode},
	{topic: TopicLoad, facts: "tank_volume=3000_gal application_rate=7000_gal/acre area_per_load=0.43_acre", gives: "area_per_load=0.428571_acre"},
	{topic: TopicPartLoad, facts: "tank_volume=3000_gal load_fraction=0.5 application_rate=7000_gal/acre", gives: "load_volume=1500_gal area_per_load=0.214286_acre"},
	{topic: TopicPartLoad, facts: "load_fraction=0.5", miss: "tank_volume application_rate"},
	{topic: TopicPartLoad, facts: "load_volume=1800_gal", miss: "application_rate"},
	{topic: TopicPartLoad, facts: "tank_volume=3000_gal application_rate=7000_gal/acre", miss: "load_fraction"},
	{topic: TopicPartLoad, facts: "tank_volume=3000_gal load_volume=4000_gal application_rate=7000_gal/acre", fails: OverFull},
	{topic: TopicPartLoad, facts: "tank_volume=3000_gal load_fraction=1.5 application_rate=7000_gal/acre", fails: OverFull},
	{topic: TopicLoad, facts: "tank_volume=3000_gal application_rate=9000_gal/acre", notes: "rate_over_limit", c: &Context{Limits: []Limit{{ApplicationRate, 8000}}}},
	{topic: TopicLoad, facts: "tank_volume=3000_gal application_rate=9000_gal/acre", notes: "rate_over_limit", c: &Context{Limits: []Limit{{Depth, 0.025}}}},
	// flow, rate, speed, agitation
	{topic: TopicFlow, facts: "application_rate=7000_gal/acre width=12_ft speed=2_mph pump_flow=1600_gal/min tank_volume=3000_gal",
		gives: "flow=339.3939_gal/min bypass_flow=1260.606_gal/min unload_time=8.839286_min turnover_time=2.379808_min"},
	{topic: TopicFlow, facts: "application_rate=9000_gal/acre width=20_ft speed=4_mph pump_flow=1000_gal/min", fails: PumpTooSmall,
		gives: "flow=1454.545_gal/min limit:speed=2.75_mph limit:application_rate=6187.5_gal/acre limit:width=13.75_ft", not: "bypass_flow turnover_time"},
	{topic: TopicFlow, facts: "application_rate=7000_gal/acre width=12_ft speed=2_mph pump_flow=500_gal/min pto_speed=500_",
		gives: "pump_flow=462.963_gal/min", notes: "pump_at_rated_speed"},
	{topic: TopicFlow, facts: "application_rate=7000_gal/acre width=12_ft speed=2_mph pump_flow=380_gal/min", notes: "pump_share_high"},
	{topic: TopicFlow, facts: "tank_volume=3000_gal unload_time=5_min", gives: "flow=600_gal/min"},
	{topic: TopicFlow, facts: "tank_volume=3000_gal", miss: "application_rate width speed"},
	{topic: TopicFlow, facts: "application_rate=7000_gal/acre width=12_ft speed=2_mph flow=600_gal/min", fails: ConflictCode},
	{topic: TopicRate, facts: "flow=600_gal/min width=12_ft speed=2.5_mph", gives: "application_rate=9900_gal/acre"},
	{topic: TopicRate, facts: "tank_volume=3000_gal width=12_ft distance=1500_ft application_rate=7000_gal/acre speed=2_mph",
		gives: "application_rate=7260_gal/acre percent_off=3.714286_% speed=2.074286_mph"},
	{topic: TopicRate, facts: "load_volume=2800_gal area=0.35_acre", gives: "application_rate=8000_gal/acre"},
	{topic: TopicRate, facts: "load_volume=12000_gal", miss: "area"},
	{topic: TopicRate, facts: "flow=600_gal/min", miss: "width speed"},
	{topic: TopicSpeed, facts: "distance=200_ft duration=45_s", gives: "speed=3.030303_mph"},
	{topic: TopicSpeed, facts: "distance=200_ft", miss: "duration"},
	{topic: TopicSpeed, facts: "application_rate=7000_gal/acre width=12_ft flow=600_gal/min tank_volume=3000_gal", gives: "speed=3.535714_mph area_per_load=0.428571_acre unload_time=5_min"},
	{topic: TopicAgitation, facts: "tank_volume=3000_gal pump_flow=1600_gal/min flow=400_gal/min", gives: "bypass_flow=1200_gal/min turnover_time=2.5_min mixing_time=5.625_min", notes: "turnover_shortens"},
	{topic: TopicAgitation, facts: "tank_volume=3000_gal pump_flow=1000_gal/min flow=900_gal/min", notes: "poor_mixing pump_share_high"},
	{topic: TopicAgitation, facts: "tank_volume=3000_gal", miss: "pump_flow flow"},
	{topic: TopicAgitation, facts: "tank_volume=3000_gal pump_flow=1600_gal/min flow=2000_gal/min", fails: PumpTooSmall, not: "bypass_flow turnover_time mixing_time"},
	// field, seed
	{topic: TopicField, facts: "area=40_acre tank_volume=3000_gal application_rate=7000_gal/acre seed_rate(annual_ryegrass)=12_lb/acre",
		gives: "loads=93.333333 full_loads=93 last_load_volume=1000_gal total_volume=280000_gal total_seed(annual_ryegrass)=480_lb last_load_seed(annual_ryegrass)=1.714286_lb"},
	{topic: TopicField, facts: "area=4_acre tank_volume=3000_gal application_rate=7500_gal/acre seed_rate(oats)=80_lb/acre", gives: "loads=10 full_loads=10", not: "last_load_volume last_load_seed"},
	{topic: TopicField, facts: "area=25_acre tank_volume=2500_imp_gal application_rate=3000_imp_gal/acre", gives: "full_loads=30", not: "last_load_volume"},
	{topic: TopicField, facts: "area=40_acre tank_volume=3000_gal application_rate=6000..8000_gal/acre", gives: "loads=80..106.6667 full_loads=80..106", not: "last_load_volume"},
	{topic: TopicField, facts: "area=-40_acre tank_volume=3000_gal application_rate=7000_gal/acre", fails: NotPositive},
	{topic: TopicSeedForArea, facts: "area=40_acre seed_rate(oats)=80_lb/acre bag_weight=50_lb", gives: "total_seed(oats)=3200_lb bag_count(oats)=64"},
	{topic: TopicSeedForArea, facts: "area=40_acre seed_rate(oats)=80_lb/acre total_seed(oats)=3000_lb", notes: "seed_short"},
	{topic: TopicSeedForArea, facts: "area=40_acre seed_rate(oats)=80_lb/acre bag_weight=50_lb bag_count=70", gives: "seed_left(oats)=300_lb"},
	{topic: TopicSeedForArea, facts: "bag_weight(oats)=50_lb bag_count(oats)=5 seed_rate(oats)=100_lb/acre", gives: "area(oats)=2.5_acre"},
	{topic: TopicSeedForArea, facts: "width=12_ft distance=3630_ft seed_rate(oats)=80_lb/acre", gives: "area=1_acre total_seed(oats)=80_lb"},
	{topic: TopicSeedForArea, facts: "area=40_acre", miss: "seed_rate"},
	{topic: TopicSeedLot, facts: "seed_rate(annual_ryegrass)=15_lb/acre purity=97.5_% germination=92_%", gives: "pure_live_seed(annual_ryegrass)=89.7_% bulk_seed_rate(annual_ryegrass)=16.72241_lb/acre"},
	{topic: TopicSeedLot, facts: "purity=98_% germination=80_% hard_seed=10_%", gives: "pure_live_seed=88.2_%"},
	{topic: TopicSeedLot, facts: "purity=99_% germination=90_% coating=33_%", gives: "pure_live_seed=59.697_%"},
	{topic: TopicSeedLot, facts: "purity=66_% germination=90_% coating=33_%", gives: "pure_live_seed=59.4_%"},
	{topic: TopicSeedLot, facts: "germination=90_%", miss: "purity"},
	{topic: TopicSeedLot, facts: "purity=120_% germination=90_%", fails: Absurd},
	{topic: TopicMix, facts: "seed_rate(cereal_rye)=60_lb/acre seed_share(cereal_rye)=50_% seed_rate(hairy_vetch)=20_lb/acre seed_share(hairy_vetch)=80_% tank_volume=3000_gal application_rate=7000_gal/acre",
		gives: "seed_rate(cereal_rye)=30_lb/acre seed_per_load(cereal_rye)=12.85714_lb seed_per_load(hairy_vetch)=6.857143_lb", notes: "shares_over_100"},
	{topic: TopicMix, facts: "tank_volume=3000_gal application_rate=7000_gal/acre seed_rate(annual_ryegrass)=10_lb/acre seed_rate(red_clover)=8_lb/acre", notes: "ride_together seed_just_before"},
	{topic: TopicMix, facts: "tank_volume=3000_gal application_rate=7000_gal/acre seed_share(oats)=50_% seed_share(oilseed_radish)=25_%", gives: "seed_rate(oats)=40..55_lb/acre"},
	{topic: TopicMix, facts: "seed_rate(oats)=40_lb/acre seed_rate(turnip)=2_lb/acre", miss: "tank_volume application_rate"},
	// soak, crop, cycle
	{topic: TopicSoak, facts: "crop(annual_ryegrass)", notes: "presoak"},
	{topic: TopicAgitation, facts: "tank_volume=6200_gal pump_flow=1240_gal/min duration(mix)=10_min", gives: "turnover_time=5_min mixing_time=15_min", notes: "stir_short", c: &Context{Shut: true}},
	{topic: TopicAgitation, facts: "tank_volume=6200_gal pump_flow=1240_gal/min duration(mix)=15_min", gives: "turnover_time=5_min mixing_time=15_min", notes: "stir_enough", c: &Context{Shut: true}},
	{topic: TopicAgitation, facts: "duration(mix)=10_min", miss: "pump_flow tank_volume", c: &Context{Shut: true}},
	{topic: TopicRate, facts: "flow=700_gal/min speed=3_mph width=12_ft application_rate=7000_gal/acre", gives: "application_rate=9625_gal/acre percent_off=37.5_% speed=4.125_mph", notes: "off_target", c: &Context{Focus: []Slot{PercentOff}}},
	{topic: TopicSoak, facts: "crop(annual_ryegrass)", miss: "tank_volume application_rate seed_rate", c: &Context{Focus: []Slot{Pails}}},
	{topic: TopicSoak, facts: "total_seed(orchardgrass)=5_lb", fails: CropNeeded},
	{topic: TopicSoak, facts: "crop(orchardgrass) total_seed(orchardgrass)=5_lb pail_volume=10_gal", gives: "pails=1 soak_water=6.675292_gal"},
	{topic: TopicSoak, facts: "crop(annual_ryegrass) total_seed(annual_ryegrass)=6.2_lb", gives: "pails=2"},
	{topic: TopicSoak, facts: "", fails: CropNeeded},
	{topic: TopicCrop, facts: "crop(cereal_rye) soil_temperature=30_°F", gives: "usual_rate(cereal_rye)=60..120_lb/acre seeding_depth(cereal_rye)=0.75..2_in seeds_per_weight(cereal_rye)=18000_seeds/lb", notes: "cold_soil"},
	{topic: TopicCrop, facts: "crop(red_clover)", notes: "no_inoculant_promise straight_in"},
	{topic: TopicCycle, facts: "duration(fill)=6_min duration(drive)=8_min duration(return)=7_min tank_volume=3000_gal flow=600_gal/min application_rate=7000_gal/acre area=40_acre",
		gives: "cycle_time=26_min loads_per_hour=2.307692_1/h area_per_hour=0.989011_acre/h total_time=40.44444_h tankers=6_"},
	{topic: TopicCycle, facts: "duration(fill)=6_min duration(drive)=8_min duration(spread)=5_min duration(return)=7_min tankers=8_", gives: "loads_per_hour=12_1/h"},
	{topic: TopicCycle, facts: "duration(fill)=6_min", miss: "duration"},
	{topic: TopicCycle, facts: "cycle_time=30_min area_per_load=0.5_acre load_count=4", gives: "loads_per_hour=2_1/h area_per_hour=1_acre/h total_time=2_h"},
	{topic: TopicSoak, facts: "tank_volume=3000_gal application_rate=7000_gal/acre seed_rate(annual_ryegrass)=12_lb/acre seed_rate(red_clover)=8_lb/acre", gives: "seed_per_load(red_clover)=3.428571_lb pails=1"},
	{topic: TopicSoak, facts: "crop(annual_ryegrass) tank_volume=3000_gal", miss: "application_rate seed_rate"},
	// what follows from other facts
	{topic: TopicLoad, facts: "area_per_load=0.4_acre application_rate=7500_gal/acre", gives: "load_volume=3000_gal area_per_load=0.4_acre"},
	{topic: TopicRate, facts: "tank_volume=3000_gal area_per_load=0.4_acre", gives: "application_rate=7500_gal/acre"},
	{topic: TopicLoad, facts: "tank_volume=3000_gal area_per_load=0.4_acre seed_rate(oats)=80_lb/acre", gives: "application_rate=7500_gal/acre seed_per_load(oats)=32_lb"},
	{topic: TopicAgitation, facts: "tank_volume=3000_gal pump_flow=1600_gal/min application_rate=7000_gal/acre width=12_ft distance=200_ft duration=45_s", gives: "speed=3.030303_mph flow=514.2332_gal/min"},
	{topic: TopicAgitation, facts: "tank_volume=3000_gal pump_flow=400_gal/min flow=400_gal/min", gives: "bypass_flow=0_gal/min mixing_time=22.5_min", notes: "poor_mixing", not: "turnover_time"},
	{topic: TopicNutrients, facts: "analysis_ammonium_n=10_lb/1000gal analysis_organic_n=15_lb/1000gal application_rate=4000_gal/acre", gives: "total_n=100_lb/acre"},
	{topic: TopicCost, facts: "seed_rate=80_lb/acre seed_price(oats)=0.4_$/lb", gives: "seed_cost=32_$/acre"},
	{topic: TopicCost, facts: "seed_rate(oats)=80_lb/acre seed_rate(turnip)=2_lb/acre seed_price(oats)=0.4_$/lb", miss: "seed_price", not: "seed_cost"},
	{topic: TopicCost, facts: "n_price=0.57_$/lb", miss: "analysis_total_n"},
	{topic: TopicCost, facts: "custom_cost=140_$/h area_per_hour=3.6_acre/h area=10_acre", gives: "custom_cost=38.88889_$/acre total_custom_cost=388.8889_$", not: "total_cost"},
	{topic: TopicCost, facts: "custom_cost=140_$/h", miss: "area_per_hour", not: "custom_cost"},
	{topic: TopicCost, facts: "custom_cost=95_$", miss: "tank_volume application_rate"},
	{topic: TopicCost, facts: "custom_cost=12_$/1000gal", miss: "application_rate"},
	{topic: TopicCost, facts: "custom_cost=20_$/acre seed_cost=21_$/acre area=40_acre", gives: "total_cost=41_$/acre total_field_cost=1640_$ total_seed_cost=840_$"},
	{topic: TopicCost, facts: "custom_cost=20_$/acre seed_rate(oats)=80_lb/acre seed_price(oats)=0.4_$/lb", gives: "seed_cost=32_$/acre total_cost=52_$/acre"},
	{topic: TopicCost, facts: "analysis_total_n=30_lb/1000gal analysis_ammonium_n=10_lb/1000gal n_price=0.5_$/lb application_rate=4000_gal/acre tank_volume=3000_gal", gives: "nutrient_value_per_volume=8.5_$/1000gal nutrient_value_per_load=25.5_$", c: &Context{Method: MethodInjected}},
	// nutrients, need, depth
	{topic: TopicNutrients, facts: "analysis_total_n=31_lb/1000gal analysis_ammonium_n=6_lb/1000gal analysis_phosphate=15_lb/1000gal analysis_potash=19_lb/1000gal application_rate=7000_gal/acre tank_volume=3000_gal duration(incorporation)=24_h",
		gives: "total_n=217_lb/acre ammonium_n=42_lb/acre organic_n=175_lb/acre phosphate=105_lb/acre potash=133_lb/acre total_n_per_load=93_lb available_n=88.55_lb/acre available_n_per_load=37.95_lb", notes: "availability_scheme"},
	{topic: TopicNutrients, facts: "analysis_total_n=0.36_% application_rate=7000_gal/acre", gives: "total_n=210.168_lb/acre"},
	{topic: TopicNutrients, facts: "analysis_total_n=7.2_lb/ton density=8.34_lb/gal application_rate=7000_gal/acre", gives: "total_n=210.168_lb/acre"},
	{topic: TopicNutrients, facts: "application_rate=7000_gal/acre", miss: "analysis_total_n"},
	{topic: TopicNutrients, facts: "application_rate=7000_gal/acre", gives: "total_n=350_lb/acre available_n=41.65..191.8_lb/acre", notes: "typical_analysis", c: &Context{Manure: "swine", Method: MethodSlots}},
	{topic: TopicNutrients, facts: "analysis_total_n=50_lb/1000gal application_rate=4000_gal/acre", gives: "available_n=160_lb/acre", c: &Context{Manure: "swine", Method: MethodInjected, Scheme: "minnesota"}},
	{topic: TopicNutrients, facts: "analysis_total_n=50_lb/1000gal analysis_ammonium_n=30_lb/1000gal application_rate=1000_gal/acre", gives: "available_n=29_lb/acre", c: &Context{Method: MethodInjected, Scheme: "own:0.8:0.25"}},
	{topic: TopicNutrients, facts: "analysis_total_n=20_lb/1000gal analysis_ammonium_n=30_lb/1000gal application_rate=1000_gal/acre", fails: ConflictCode},
	{topic: TopicNeed, facts: "analysis_total_n=28_lb/1000gal analysis_phosphate=14_lb/1000gal target_n=100_lb/acre target_phosphate=30_lb/acre",
		gives: "application_rate=3571.429_gal/acre phosphate=50_lb/acre", notes: "all_nitrogen phosphate_over_need"},
	{topic: TopicNeed, facts: "analysis_phosphate=12_lb/1000gal target_phosphate=60_lb/acre", gives: "application_rate=5000_gal/acre phosphate=60_lb/acre"},
	{topic: TopicNeed, facts: "target_n=100_lb/acre", gives: "application_rate=3649.635..16806.72_gal/acre", c: &Context{Manure: "swine", Method: MethodSlots}},
	{topic: TopicNeed, facts: "target_phosphate=60_lb/acre", miss: "analysis_phosphate"},
	{topic: TopicNeed, facts: "target_n=60_lb/acre", miss: "analysis_total_n"},
	// P and K by the element, by 2.29 and 1.205 (from memory; testdata/worked/computed.txt)
	{topic: TopicNutrients, facts: "analysis_phosphorus=10_lb/1000gal analysis_potassium=10_lb/1000gal application_rate=10000_gal/acre", gives: "phosphate=229.1325_lb/acre potash=120.4601_lb/acre"},
	{topic: TopicNutrients, facts: "analysis_phosphorus=1.2_lb/ton application_rate=8000_gal/acre", gives: "phosphate=91.72632_lb/acre"},
	{topic: TopicNeed, facts: "analysis_phosphate=12_lb/1000gal target_phosphorus=30_lb/acre", gives: "application_rate=5728.312_gal/acre"},
	// the most that is allowed
	{topic: TopicNutrients, facts: "analysis_total_n=24_lb/1000gal application_rate=8000_gal/acre limit_n=170_kg/ha", gives: "total_n=192_lb/acre", notes: "nutrient_over_limit"},
	{topic: TopicNutrients, facts: "analysis_total_n=24_lb/1000gal application_rate=6000_gal/acre limit_n=170_kg/ha", notes: "nutrient_within_limit"},
	{topic: TopicNutrients, facts: "analysis_phosphate=12_lb/1000gal application_rate=8000_gal/acre limit_phosphorus=35_lb/acre", notes: "nutrient_over_limit"},
	{topic: TopicNeed, facts: "analysis_phosphate=12_lb/1000gal limit_phosphate=80_lb/acre", gives: "phosphate=80_lb/acre"},
	{topic: TopicNeed, facts: "analysis_total_n=24_lb/1000gal limit_phosphate=80_lb/acre", miss: "analysis_phosphate"},
	// what the crop is to get
	{topic: TopicNutrients, facts: "analysis_total_n=24_lb/1000gal application_rate=8000_gal/acre target_n=150_lb/acre", notes: "nutrient_maybe", c: &Context{Focus: []Slot{TargetN}}},
	{topic: TopicNutrients, facts: "analysis_total_n=24_lb/1000gal application_rate=8000_gal/acre target_n=250_lb/acre", notes: "nutrient_short", c: &Context{Focus: []Slot{TargetN}}},
	{topic: TopicNutrients, facts: "analysis_total_n=24_lb/1000gal analysis_ammonium_n=12_lb/1000gal application_rate=8000_gal/acre target_n=100_lb/acre", notes: "nutrient_enough", c: &Context{Focus: []Slot{TargetN}, Method: MethodInjected}},
	{topic: TopicNutrients, facts: "analysis_total_n=24_lb/1000gal analysis_ammonium_n=12_lb/1000gal application_rate=8000_gal/acre target_n=100_lb/acre", miss: "duration", c: &Context{Focus: []Slot{TargetN}}},
	{topic: TopicNutrients, facts: "analysis_total_n=24_lb/1000gal application_rate=8000_gal/acre", miss: "target_n", c: &Context{Focus: []Slot{TargetN}}},
	{topic: TopicDepth, facts: "application_rate=13500_gal/acre", gives: "depth=0.4971591_in", notes: "depth_over_limit local_rules"},
	{topic: TopicDepth, facts: "application_rate=12000_gal/acre", notes: "depth_near_limit"},
	{topic: TopicDepth, facts: "application_rate=6000_gal/acre", gives: "soil_room=5000_gal/acre", notes: "depth_over_limit", c: &Context{Soil: "sand", Moisture: "wet"}},
	{topic: TopicDepth, facts: "application_rate=9000_gal/acre", notes: "depth_over_limit", c: &Context{Limits: []Limit{{ApplicationRate, 8000}}}},
	// gate, weigh, samples, cost
	{topic: TopicGate, facts: "flow=620_gal/min", gives: "gate_opening=4_", c: &Context{Runs: runs}},
	{topic: TopicGate, facts: "gate_opening=6_", gives: "flow=900_gal/min", c: &Context{Runs: runs}},
	{topic: TopicGate, facts: "flow=600_gal/min", gives: "gate_opening=4_", c: &Context{Runs: []Run{{Opening: 3, Flow: 450}, {Opening: 5, Flow: 740}, {Opening: 5, Flow: 760}}}},
	{topic: TopicGate, facts: "application_rate=7000_gal/acre width=12_ft speed=2_mph", gives: "gate_opening=2.393939_", c: &Context{Runs: []Run{{Opening: 2, Flow: 300}, {Opening: 6, Flow: 700}}}},
	{topic: TopicGate, facts: "gate_opening=7_", fails: Extrapolation, c: &Context{Runs: runs}},
	{topic: TopicGate, facts: "gate_opening=2_", fails: NoCurve, c: &Context{Runs: runs, Outlet: "wide bar"}},
	{topic: TopicGate, facts: "gate_opening=4_", fails: NoRuns, miss: "flow"},
	{topic: TopicGate, facts: "gate_opening=2_ flow=300_gal/min gate_opening=6_ flow=700_gal/min gate_opening=3_", gives: "flow=400_gal/min"},
	{topic: TopicGate, facts: "gate_opening=3_ flow=700_gal/min gate_opening=5_ flow=500_gal/min flow=600_gal/min", fails: RunsContradict},
	{topic: TopicWeigh, facts: "gross_weight=52000_lb tare_weight=27100_lb density=8.3_lb/gal area=0.4_acre", gives: "net_weight=24900_lb load_volume=3000_gal application_rate=7500_gal/acre"},
	{topic: TopicWeigh, facts: "gross_weight=20000_lb tare_weight=26000_lb", fails: NotPositive},
	{topic: TopicWeigh, facts: "gross_weight=52000_lb", miss: "tare_weight"},
	{topic: TopicSamples, facts: "sample_count=42_ sample_count=38_ sample_count=45_ sample_count=40_", gives: "sample_mean=41.25_ sample_cv=7.23898_%", notes: "even"},
	{topic: TopicSamples, facts: "sample_count=20_ sample_count=40_ sample_count=80_", notes: "uneven floats_up"},
	{topic: TopicSamples, facts: "sample_count=80_ sample_count=40_ sample_count=20_", notes: "uneven settles"},
	{topic: TopicSamples, facts: "sample_count=80_ sample_count=40_", fails: TooFewSamples, miss: "sample_count"},
	{topic: TopicCost, facts: "seed_price(oats)=0.4_$/lb seed_rate(oats)=80_lb/acre tank_volume=3000_gal application_rate=7500_gal/acre area=40_acre", gives: "seed_cost=32_$/acre seed_cost_per_load=12.8_$ total_seed_cost=1280_$"},
	{topic: TopicCost, facts: "analysis_total_n=10_lb/1000gal n_price=0.57_$/lb analysis_phosphate=6_lb/1000gal phosphate_price=0.7_$/lb analysis_potash=17_lb/1000gal potash_price=0.45_$/lb application_rate=7000_gal/acre target_n=50_lb/acre",
		gives: "nutrient_value_per_volume=17.55_$/1000gal nutrient_value=111.45_$/acre"},
	{topic: TopicCost, facts: "", miss: "seed_price seed_rate"},
	{topic: TopicConvert, facts: "seed_rate(oats)=2_bu/acre", gives: "converted(oats)=71.73449_kg/ha", notes: "test_weight", c: &Context{Convert: unit.Must("kg/ha")}},
	{topic: TopicConvert, facts: "total_seed(oats)=320_lb", gives: "converted(oats)=10_bu", c: &Context{Convert: unit.Must("bu")}},
	{topic: TopicConvert, facts: "application_rate=7000_gal/acre", gives: "converted=0.257786_in", c: &Context{Convert: unit.Must("in")}},
	{topic: TopicConvert, facts: "application_rate=7000_gal/acre", fails: CannotConvert, c: &Context{Convert: unit.Must("kg")}},
	{topic: TopicConvert, facts: "application_rate=7000_gal/acre", fails: WhatUnit},
}

func TestAnswers(t *testing.T) {
	for _, k := range answerCases {
		t.Run(fmt.Sprintf("%s %s", k.topic, k.facts), func(t *testing.T) {
			r := Answer([]Topic{k.topic}, facts(t, k.facts), k.c)
			if r.Problem != k.fails {
				t.Errorf("problem %q, want %q", r.Problem, k.fails)
			}
			if got := names(r.Missing); got != k.miss {
				t.Errorf("misses %q, want %q", got, k.miss)
			}
			for _, want := range strings.Fields(k.gives) {
				checkGives(t, &r, want)
			}
			for _, id := range strings.Fields(k.notes) {
				if !r.noted(id) {
					t.Errorf("no note %s in %v", id, r.Notes)
				}
			}
			for _, name := range strings.Fields(k.not) {
				if v := r.result(SlotNamed(name), ""); v != nil && !v.Limit {
					t.Errorf("gives %s", name)
				}
			}
			checkSound(t, &r)
		})
	}
}

func checkGives(t *testing.T, r *Reckoning, want string) {
	t.Helper()
	bare := strings.TrimPrefix(want, "limit:")
	f, problem := readFact(bare)
	if problem != "" {
		t.Fatalf("%s: %s", want, problem)
	}
	for i := range r.Results {
		v := &r.Results[i]
		if v.Slot != f.Slot || v.Of != f.Of || v.Limit != (bare != want) {
			continue
		}
		lo, hi := f.Base()
		if math.Abs(v.Min-lo) > 2e-6*math.Abs(lo) || math.Abs(v.Max-hi) > 2e-6*math.Abs(hi) {
			t.Errorf("%s: got %g to %g, want %g to %g", want, v.Min, v.Max, lo, hi)
		}
		return
	}
	t.Errorf("no %s in %v", want, r.Results)
}

// checkSound holds what is true of every answer.
func checkSound(t testing.TB, r *Reckoning) {
	t.Helper()
	for _, v := range r.Results {
		if !isFinite(v.Min) || !isFinite(v.Max) || v.Min > v.Max {
			t.Errorf("%s is %g to %g", v.Slot, v.Min, v.Max)
		}
		if v.By == nil || SourceNamed(v.By.Source) == nil {
			t.Errorf("%s cannot say how it came about", v.Slot)
		}
	}
	for _, n := range r.Notes {
		if !contains(NoteIDs, n.ID) {
			t.Errorf("note %s is not in NoteIDs", n.ID)
		}
		if n.Source != "" && SourceNamed(n.Source) == nil {
			t.Errorf("note %s has an unknown source %s", n.ID, n.Source)
		}
	}
	if r.Problem != "" && !contains(Problems, r.Problem) {
		t.Errorf("problem %s is not in Problems", r.Problem)
	}
	if len(r.Missing) != len(r.MissingOf) {
		t.Errorf("missing %v, of %v", r.Missing, r.MissingOf)
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// What an answer rests on is listed: what was said, and what was assumed.
func TestUsedAndAssumed(t *testing.T) {
	fs := facts(t, "tank_volume=3000_gal application_rate=7000_gal/acre seed_rate(annual_ryegrass)=12_lb/acre germination=90_%")
	r := Answer([]Topic{TopicLoad}, fs, nil)
	if len(r.Used) != 3 || r.Used.First(Germination) != nil {
		t.Errorf("used %v", r.Used)
	}
	if f := r.Assumed.First(PailVolume); f == nil || f.Origin != Assumed {
		t.Errorf("assumed %v", r.Assumed)
	}
	r = Answer([]Topic{TopicWeigh}, facts(t, "gross_weight=52000_lb tare_weight=27100_lb"), nil)
	if r.Assumed.First(Density) == nil {
		t.Error("the density was not shown as assumed")
	}
}

// A value remembered is overruled by what is worked out, without a conflict.
func TestRememberedGivesWay(t *testing.T) {
	fs := facts(t, "application_rate=7000_gal/acre width=12_ft speed=2_mph flow=600_gal/min")
	fs[3].Origin = Remembered
	r := Answer([]Topic{TopicFlow}, fs, nil)
	if v := r.result(Flow, ""); r.Problem != "" || v == nil || math.Abs(v.Min-339.394) > 0.01 {
		t.Errorf("problem %q, results %v", r.Problem, r.Results)
	}
}

// With a seed lot asked about, the rate is pure live seed, and the load takes bulk.
func TestLotGoesIntoTheLoad(t *testing.T) {
	fs := facts(t, "tank_volume=3000_gal application_rate=7500_gal/acre seed_rate(oats)=80_lb/acre purity=100_% germination=80_%")
	r := Answer([]Topic{TopicSeedLot, TopicLoad}, fs, nil)
	if v := r.result(SeedPerLoad, "oats"); v == nil || !near(v.Min, 40) {
		t.Errorf("seed a load %v, want 40 lb as weighed", v)
	}
}

// Slots and units go to the store and come back by name.
func TestStoredByName(t *testing.T) {
	for _, s := range Slots() {
		b, err := s.MarshalText()
		var back Slot
		if err != nil || back.UnmarshalText(b) != nil || back != s {
			t.Errorf("%s does not survive being stored", s)
		}
	}
	if new(Slot).UnmarshalText([]byte("no_such_thing")) == nil {
		t.Error("an unknown quantity was read")
	}
	for want, u := range map[string]Units{"gal": {}, "imp gal": {System: unit.Imperial}, "L": {System: unit.Metric}, "m3": {System: unit.Metric, Cubes: true}} {
		if got := u.UnitFor(TankVolume).Symbol; got != want {
			t.Errorf("tank in %s, want %s", got, want)
		}
	}
	if got := (Units{System: unit.Metric, Litres: true}).UnitFor(ApplicationRate).Symbol; got != "L/ha" {
		t.Errorf("rate in %s", got)
	}
	if Said.String() != "said" || Derived.String() != "derived" {
		t.Error("origins are named wrongly")
	}
}

func TestSeveralTopics(t *testing.T) {
	fs := facts(t, "tank_volume=3000_gal application_rate=7000_gal/acre width=12_ft speed=2_mph area=40_acre")
	r := Answer([]Topic{TopicLoad, TopicFlow, TopicField}, fs, nil)
	for _, s := range []Slot{AreaPerLoad, Flow, Loads} {
		if r.result(s, "") == nil {
			t.Errorf("no %s in %v", s, r.Results)
		}
	}
}

func TestFollows(t *testing.T) {
	for text, want := range map[string]string{
		"tank_volume=3000_gal application_rate=7000_gal/acre":                                      "load",
		"tank_volume=3000_gal application_rate=7000_gal/acre area=40_acre":                         "field load",
		"tank_volume=3000_gal application_rate=7000_gal/acre load_fraction=0.5":                    "part_load",
		"application_rate=7000_gal/acre width=12_ft speed=2_mph":                                   "flow",
		"flow=600_gal/min width=12_ft speed=2_mph":                                                 "rate",
		"flow=600_gal/min width=12_ft application_rate=7000_gal/acre":                              "speed",
		"tank_volume=3000_gal pump_flow=1600_gal/min flow=400_gal/min":                             "agitation",
		"area=40_acre seed_rate(oats)=80_lb/acre":                                                  "seed_for_area",
		"tank_volume=3000_gal area=40_acre":                                                        "",
		"load_volume=2800_gal area=0.35_acre":                                                      "rate",
		"tank_volume=3000_gal width=12_ft distance=1500_ft":                                        "rate",
		"distance=200_ft duration=45_s":                                                            "speed",
		"purity=98_% germination=90_%":                                                             "seed_lot",
		"analysis_total_n=30_lb/1000gal target_n=120_lb/acre":                                      "need",
		"analysis_total_n=30_lb/1000gal application_rate=7000_gal/acre":                            "nutrients",
		"gross_weight=52000_lb tare_weight=26000_lb":                                               "weigh",
		"sample_count=30_ sample_count=28_ sample_count=33_":                                       "samples",
		"duration(fill)=6_min duration(drive)=8_min duration(spread)=5_min duration(return)=7_min": "cycle",
		"seed_price(oats)=0.4_$/lb seed_rate(oats)=80_lb/acre":                                     "cost",
		"application_rate=7000_gal/acre":                                                           "",
		"tank_volume=3000_gal":                                                                     "",
		"":                                                                                         "",
	} {
		var got []string
		for _, topic := range Follows(facts(t, text)) {
			got = append(got, string(topic))
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: follows %v, want %q", text, got, want)
		}
	}
}

// Remembered facts alone ask for nothing; what was said must have a part in it.
func TestFollowsWhatWasSaid(t *testing.T) {
	fs := facts(t, "tank_volume=3000_gal application_rate=7000_gal/acre pump_flow=1600_gal/min slope=5_%")
	for i := range fs[:3] {
		fs[i].Origin = Remembered
	}
	if got := Follows(fs); len(got) != 0 {
		t.Errorf("follows %v from a slope", got)
	}
	fs[0].Origin = Said
	if got := Follows(fs); len(got) != 1 || got[0] != TopicLoad {
		t.Errorf("follows %v from a tank", got)
	}
}

// The budget of the commonest question.
func TestAnswerIsCheap(t *testing.T) {
	fs := facts(t, "tank_volume=3000_gal application_rate=7000_gal/acre seed_rate(annual_ryegrass)=12_lb/acre")
	topics, c := []Topic{TopicLoad}, &Context{}
	if n := testing.AllocsPerRun(100, func() { Answer(topics, fs, c) }); n > 12 {
		t.Errorf("%g allocations, at most 12", n)
	}
}

func BenchmarkAnswer(b *testing.B) {
	fs := facts(b, "tank_volume=3000_gal application_rate=7000_gal/acre seed_rate(annual_ryegrass)=12_lb/acre")
	topics, c := []Topic{TopicLoad}, &Context{}
	b.ReportAllocs()
	for b.Loop() {
		Answer(topics, fs, c)
	}
}
