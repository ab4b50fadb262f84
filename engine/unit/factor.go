package unit

// Exact definitions. Sources: international yard and pound (1959): foot 0.3048 m,
// pound 0.45359237 kg; US gallon 231 in³; imperial gallon 4.54609 L; US bushel
// 2150.42 in³; acre 43,560 ft². All by definition, so exact. NIST Handbook 44,
// appendix C, prints the same; values here from memory of the definitions.
const (
	cubicMetrePerFoot3 = 0.3048 * 0.3048 * 0.3048
	litrePerGallon     = 231.0 * 2.54 * 2.54 * 2.54 / 1000
	litrePerImpGallon  = 4.54609
	gallonPerLitre     = 1 / litrePerGallon
	gallonPerImpGallon = litrePerImpGallon / litrePerGallon
	gallonPerM3        = 1000 * gallonPerLitre
	gallonPerFoot3     = 12.0 * 12 * 12 / 231
	gallonPerBushel    = 2150.42 / 231
	squareFeetPerAcre  = 43560.0
	squareMetrePerFt2  = 0.3048 * 0.3048
	acrePerHectare     = 10000 / (squareFeetPerAcre * squareMetrePerFt2)
	acrePerM2          = 1 / (squareFeetPerAcre * squareMetrePerFt2)
	poundPerKilogram   = 1 / 0.45359237
	footPerMetre       = 1 / 0.3048
	milePerKilometre   = 1000 * footPerMetre / 5280
	stone              = 14.0 // pounds
	tonPound           = 2000.0
	longTonPound       = 2240.0
)

// Constants of the job that other formulas use.
const (
	SquareFeetPerAcre   = squareFeetPerAcre
	FeetPerMileHour     = 88.0                                        // feet a minute at one mile an hour
	GallonsPerAcreInch  = squareFeetPerAcre * 12 * 12 * 12 / 231 / 12 // 27,154.29
	GallonsPerBushel    = gallonPerBushel
	GallonsPerCubicFoot = gallonPerFoot3
)

var table = []*Unit{
	{"", None, 1, 0, US},

	{"gal", DimVolume, 1, 0, US},
	{"qt", DimVolume, 1.0 / 4, 0, US},
	{"pt", DimVolume, 1.0 / 8, 0, US},
	{"imp gal", DimVolume, gallonPerImpGallon, 0, Imperial},
	{"imp qt", DimVolume, gallonPerImpGallon / 4, 0, Imperial},
	{"imp pt", DimVolume, gallonPerImpGallon / 8, 0, Imperial},
	{"L", DimVolume, gallonPerLitre, 0, Metric},
	{"mL", DimVolume, gallonPerLitre / 1000, 0, Metric},
	{"m3", DimVolume, gallonPerM3, 0, Metric},
	{"ft3", DimVolume, gallonPerFoot3, 0, US},
	{"bu", DimVolume, gallonPerBushel, 0, US}, // of seed it is weighed: engine turns it into mass by test weight

	{"acre", DimArea, 1, 0, US},
	{"ha", DimArea, acrePerHectare, 0, Metric},
	{"ft2", DimArea, 1 / squareFeetPerAcre, 0, US},
	{"m2", DimArea, acrePerM2, 0, Metric},

	{"lb", DimMass, 1, 0, US},
	{"oz", DimMass, 1.0 / 16, 0, US},
	{"ton", DimMass, tonPound, 0, US},
	{"long ton", DimMass, longTonPound, 0, Imperial},
	{"stone", DimMass, stone, 0, Imperial},
	{"kg", DimMass, poundPerKilogram, 0, Metric},
	{"g", DimMass, poundPerKilogram / 1000, 0, Metric},
	{"t", DimMass, poundPerKilogram * 1000, 0, Metric},

	{"ft", DimLength, 1, 0, US},
	{"in", DimLength, 1.0 / 12, 0, US},
	{"yd", DimLength, 3, 0, US},
	{"mi", DimLength, 5280, 0, US},
	{"m", DimLength, footPerMetre, 0, Metric},
	{"cm", DimLength, footPerMetre / 100, 0, Metric},
	{"mm", DimLength, footPerMetre / 1000, 0, Metric},
	{"km", DimLength, footPerMetre * 1000, 0, Metric},

	{"min", DimTime, 1, 0, US},
	{"s", DimTime, 1.0 / 60, 0, US},
	{"h", DimTime, 60, 0, US},
	{"day", DimTime, 1440, 0, US},

	{"mph", DimSpeed, 1, 0, US},
	{"km/h", DimSpeed, milePerKilometre, 0, Metric},
	{"ft/min", DimSpeed, 1 / FeetPerMileHour, 0, US},
	{"ft/s", DimSpeed, 60 / FeetPerMileHour, 0, US},
	{"m/s", DimSpeed, 3.6 * milePerKilometre, 0, Metric},

	{"gal/min", DimFlow, 1, 0, US},
	{"gal/h", DimFlow, 1.0 / 60, 0, US},
	{"imp gal/min", DimFlow, gallonPerImpGallon, 0, Imperial},
	{"L/min", DimFlow, gallonPerLitre, 0, Metric},
	{"L/s", DimFlow, gallonPerLitre * 60, 0, Metric},
	{"m3/h", DimFlow, gallonPerM3 / 60, 0, Metric},
	{"m3/min", DimFlow, gallonPerM3, 0, Metric},

	{"gal/acre", DimVolumePerArea, 1, 0, US},
	{"imp gal/acre", DimVolumePerArea, gallonPerImpGallon, 0, Imperial},
	{"L/ha", DimVolumePerArea, gallonPerLitre / acrePerHectare, 0, Metric},
	{"m3/ha", DimVolumePerArea, gallonPerM3 / acrePerHectare, 0, Metric},
	{"gal/ha", DimVolumePerArea, 1 / acrePerHectare, 0, US},
	{"L/acre", DimVolumePerArea, gallonPerLitre, 0, Metric},
	{"m3/acre", DimVolumePerArea, gallonPerM3, 0, Metric},
	{"imp gal/ha", DimVolumePerArea, gallonPerImpGallon / acrePerHectare, 0, Imperial},

	{"lb/acre", DimMassPerArea, 1, 0, US},
	{"oz/acre", DimMassPerArea, 1.0 / 16, 0, US},
	{"stone/acre", DimMassPerArea, stone, 0, Imperial},
	{"ton/acre", DimMassPerArea, tonPound, 0, US},
	{"lb/ha", DimMassPerArea, 1 / acrePerHectare, 0, US},
	{"kg/ha", DimMassPerArea, poundPerKilogram / acrePerHectare, 0, Metric},
	{"g/ha", DimMassPerArea, poundPerKilogram / 1000 / acrePerHectare, 0, Metric},
	{"kg/acre", DimMassPerArea, poundPerKilogram, 0, Metric},
	{"bu/acre", DimMassPerArea, 1, 0, US}, // Base is set per crop by its test weight
	{"t/ha", DimMassPerArea, poundPerKilogram * 1000 / acrePerHectare, 0, Metric},
	{"g/m2", DimMassPerArea, poundPerKilogram / 1000 / acrePerM2, 0, Metric},

	{"lb/1000gal", DimMassPerVolume, 1, 0, US},
	{"lb/1000imp gal", DimMassPerVolume, 1 / gallonPerImpGallon, 0, Imperial},
	{"lb/gal", DimMassPerVolume, 1000, 0, US},
	{"kg/m3", DimMassPerVolume, poundPerKilogram / gallonPerM3 * 1000, 0, Metric},
	{"g/L", DimMassPerVolume, poundPerKilogram / gallonPerM3 * 1000, 0, Metric},
	{"kg/L", DimMassPerVolume, poundPerKilogram / gallonPerLitre * 1000, 0, Metric},
	{"mg/L", DimMassPerVolume, poundPerKilogram / gallonPerM3, 0, Metric},

	{"lb/ton", DimMassPerMass, 1, 0, US},
	{"kg/t", DimMassPerMass, 2, 0, Metric},
	{"ppm", DimMassPerMass, 0.002, 0, US}, // mg/kg: 1 in 1e6 of 2,000 lb

	{"%", DimFraction, 0.01, 0, US},

	{"1/h", DimFrequency, 1, 0, US},
	{"acre/h", DimAreaPerTime, 1, 0, US},
	{"ha/h", DimAreaPerTime, acrePerHectare, 0, Metric},

	{"seeds/ft2", DimCountPerArea, 1, 0, US},
	{"seeds/m2", DimCountPerArea, squareMetrePerFt2, 0, Metric},
	{"seeds/gal", DimCountPerVolume, 1, 0, US},
	{"seeds/imp gal", DimCountPerVolume, 1 / gallonPerImpGallon, 0, Imperial},
	{"seeds/L", DimCountPerVolume, litrePerGallon, 0, Metric},
	{"seeds/lb", DimCountPerMass, 1, 0, US},
	{"seeds/kg", DimCountPerMass, 1 / poundPerKilogram, 0, Metric},

	{"°F", DimTemperature, 1, 0, US},
	{"°C", DimTemperature, 1.8, 32, Metric},

	{"$", DimMoney, 1, 0, US},
	{"$/acre", DimMoneyPerArea, 1, 0, US},
	{"$/ha", DimMoneyPerArea, 1 / acrePerHectare, 0, Metric},
	{"$/lb", DimMoneyPerMass, 1, 0, US},
	{"$/kg", DimMoneyPerMass, 1 / poundPerKilogram, 0, Metric},
	{"$/ton", DimMoneyPerMass, 1 / tonPound, 0, US},
	{"$/t", DimMoneyPerMass, 1 / (poundPerKilogram * 1000), 0, Metric},
	{"$/1000gal", DimMoneyPerVolume, 1, 0, US},
	{"$/m3", DimMoneyPerVolume, 1000 / gallonPerM3, 0, Metric},
	{"$/gal", DimMoneyPerVolume, 1000, 0, US},
	{"$/L", DimMoneyPerVolume, 1000 / gallonPerLitre, 0, Metric},
	{"$/imp gal", DimMoneyPerVolume, 1000 / gallonPerImpGallon, 0, Imperial},
	{"$/1000imp gal", DimMoneyPerVolume, 1 / gallonPerImpGallon, 0, Imperial},
	{"$/h", DimMoneyPerTime, 1, 0, US},
}

var bySymbol = func() map[string]*Unit {
	m := make(map[string]*Unit, len(table))
	for _, u := range table {
		m[u.Symbol] = u
	}
	return m
}()
