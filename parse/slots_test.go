package parse

import (
	"testing"

	"tankside/engine"
)

// sayable gives each quantity that people say one sentence in each language.
var sayable = map[engine.Slot][2]string{
	engine.TankVolume:         {"3000 gallon tank", "tanque de 3000 galones"},
	engine.LoadVolume:         {"load of 2500 gallons", "quedan 1800 galones en el tanque"},
	engine.ApplicationRate:    {"7000 gallons per acre", "7000 galones por acre"},
	engine.SeedRate:           {"ryegrass 12 lb", "ballico 12 libras"},
	engine.Area:               {"40 acre field", "lote de 40 acres"},
	engine.AreaPerLoad:        {"0.43 acres per load", "0.43 acres por carga"},
	engine.SeedPerLoad:        {"5 lb of oats per load", "5 libras de avena por carga"},
	engine.TotalSeed:          {"we have 500 lb of oats", "tenemos 500 libras de avena"},
	engine.Flow:               {"600 gpm out the back", "salen 600 galones por minuto"},
	engine.PumpFlow:           {"1600 gpm pump", "bomba de 1600 galones por minuto"},
	engine.Speed:              {"3 mph", "3 millas por hora"},
	engine.Width:              {"12 ft tool", "barra de 12 pies"},
	engine.Distance:           {"200 ft in 45 seconds", "200 pies en 45 segundos"},
	engine.Duration:           {"fill 6 min", "llenar 6 minutos"},
	engine.UnloadTime:         {"empties in 5 minutes", "se vacia en 5 minutos"},
	engine.Purity:             {"purity 98 germ 90", "pureza 98 germinacion 90"},
	engine.Germination:        {"purity 98 germ 90", "pureza 98 germinacion 90"},
	engine.HardSeed:           {"hard seed 12 percent", "semilla dura 12 por ciento"},
	engine.Coating:            {"coating 34 percent", "recubrimiento 34 por ciento"},
	engine.SeedShare:          {"oats at 50 percent and vetch at 50 percent", "avena al 50 por ciento y veza al 50 por ciento"},
	engine.PureLiveSeed:       {"pls 85 percent", "semilla pura viva 85 por ciento"},
	engine.AnalysisTotalN:     {"31 lb n per 1000 gal", "31 libras de nitrogeno por mil galones"},
	engine.AnalysisAmmoniumN:  {"6 lb ammonium n per 1000 gal", "6 libras de amonio por mil galones"},
	engine.AnalysisOrganicN:   {"20 lb organic n per 1000 gal", "20 libras de nitrogeno organico por mil galones"},
	engine.AnalysisPhosphate:  {"15 lb p2o5 per 1000 gal", "15 libras de fosfato por mil galones"},
	engine.AnalysisPotash:     {"19 lb k2o per 1000 gal", "19 libras de potasa por mil galones"},
	engine.TargetN:            {"need 120 lb n per acre", "necesito 120 libras de nitrogeno por acre"},
	engine.TargetPhosphate:    {"need 60 lb p2o5 per acre", "necesito 60 libras de fosfato por acre"},
	engine.AnalysisPhosphorus: {"8 lb p per 1000 gal, elemental", "8 libras de fosforo elemental por mil galones"},
	engine.AnalysisPotassium:  {"20 lb k per 1000 gal as element", "20 libras de potasio elemental por mil galones"},
	engine.TargetPhosphorus:   {"need 30 lb elemental p per acre", "necesito 30 libras de fosforo elemental por acre"},
	engine.LimitN:             {"limit here is 170 kg n per ha", "el limite aqui es 170 kg de nitrogeno por ha"},
	engine.LimitPhosphate:     {"the plan says 80 lb p2o5 per acre max", "el plan dice 80 libras de fosfato por acre maximo"},
	engine.LimitPhosphorus:    {"the plan says 35 lb elemental p per acre max", "el plan dice 35 libras de fosforo elemental por acre maximo"},
	engine.GateOpening:        {"gate 4 gives 620 gpm", "compuerta en 4 da 620 galones por minuto"},
	engine.GrossWeight:        {"gross 41000 lb tare 16000 lb", "bruto 41000 libras tara 16000 libras"},
	engine.TareWeight:         {"gross 41000 lb tare 16000 lb", "bruto 41000 libras tara 16000 libras"},
	engine.SampleCount:        {"jars 42 45 39", "frascos 42 45 39"},
	engine.LoadFraction:       {"half a tank", "medio tanque"},
	engine.LoadCount:          {"2 loads done", "2 cargas listas"},
	engine.BagWeight:          {"5 bags of 50 lb oats", "5 bolsas de avena de 50 libras"},
	engine.BagCount:           {"5 bags of 50 lb oats", "5 bolsas de avena de 50 libras"},
	engine.SeedPrice:          {"ryegrass at 90 cents a pound", "ballico a 90 centavos la libra"},
	engine.NPrice:             {"n at 57 cents a pound", "nitrogeno a 57 centavos la libra"},
	engine.PhosphatePrice:     {"phosphate at 60 cents a pound", "fosfato a 60 centavos la libra"},
	engine.PotashPrice:        {"potash at 45 cents a pound", "potasa a 45 centavos la libra"},
	engine.HeelVolume:         {"heel of 200 gallons", "fondo muerto de 200 galones"},
	engine.Density:            {"8.4 lb/gal", "densidad 8.4 libras por galon"},
	engine.Slope:              {"slope 6 percent", "pendiente 6 por ciento"},
	engine.SoilTemperature:    {"soil temp 55 degrees f", "temperatura del suelo 55 grados fahrenheit"},
	engine.PailVolume:         {"5 gallon pails", "cubetas de 5 galones"},
	engine.LoadsLeft:          {"2 loads done 4 to go", "2 cargas listas 4 por hacer"},
	engine.PTOSpeed:           {"pto 480", "toma de fuerza a 480"},
	engine.RatedPTOSpeed:      {"rated rpm 540", "rpm nominal 540"},
	engine.TubeVolume:         {"caught 2 gallons in 6 seconds per tube", "junte 2 galones en 6 segundos por tubo"},
	engine.Tubes:              {"caught 2 gallons in 6 seconds per tube, 12 tubes", "junte 2 galones en 6 segundos por tubo, 12 tubos"},
	engine.BypassShare:        {"30% of the pump going back to the tank", "regresa 30 % al tanque de la bomba"},
	engine.JarVolume:          {"quart jar", "frasco de un litro"},
	engine.SeedsPerWeight:     {"rye runs 18,000 seeds per lb", "el centeno trae 18,000 semillas por libra"},
	engine.CustomCost:         {"custom rate $18 an acre", "maquila a 18 dólares por acre"},
	engine.AreaPerHour:        {"3.6 acres an hour", "3.6 acres por hora"},
	engine.SeedCost:           {"seed runs $21 an acre", "la semilla sale a 21 dólares por acre"},
}

// answered are the quantities that only answers hold.
var answered = []engine.Slot{engine.Loads, engine.FullLoads, engine.LastLoadVolume, engine.LastLoadSeed, engine.BypassFlow, engine.TurnoverTime, engine.MixingTime,
	engine.RunLength, engine.CycleTime, engine.LoadsPerHour, engine.TotalTime, engine.BulkSeedRate, engine.SeedsPerArea, engine.SeedsPerVolume,
	engine.Pails, engine.SoakWater, engine.TotalN, engine.AmmoniumN, engine.OrganicN, engine.AvailableN, engine.Phosphate, engine.Potash, engine.TotalNPerLoad,
	engine.AmmoniumNPerLoad, engine.OrganicNPerLoad, engine.AvailableNPerLoad, engine.PhosphatePerLoad, engine.PotashPerLoad, engine.Depth, engine.NetWeight,
	engine.SampleMean, engine.SampleCV, engine.NutrientValue, engine.SeedCostPerLoad, engine.NutrientValuePerLoad, engine.NutrientValuePerVolume,
	engine.Converted, engine.UsualRate, engine.SeedingDepth, engine.AreaDone, engine.AreaLeft, engine.VolumeUsed, engine.SeedUsed,
	engine.TotalVolume, engine.CropSaid, engine.Tankers, engine.TotalSeedCost, engine.SeedLeft, engine.SampleDispersion, engine.SampleP, engine.SampleK, engine.PercentOff,
	engine.BagsPerLoad, engine.BagsUsed, engine.BagsLeft, engine.TotalCustomCost, engine.TotalCost, engine.TotalFieldCost, engine.MarkerLoads, engine.DaysToEmerge, engine.SoilRoom, engine.SeedPerVolume, engine.ApplicationTime, engine.AnalysisAvailableN, engine.ExpectedCount, engine.WorkDays}

// Every quantity is sayable in every language, or is known to be an answer only.
func TestEveryQuantityHasWords(t *testing.T) {
	only := map[engine.Slot]bool{}
	for _, s := range answered {
		only[s] = true
	}
	for _, s := range engine.Slots() {
		sentences, ok := sayable[s]
		if !ok {
			if !only[s] {
				t.Errorf("%s is neither said nor only answered", s)
			}
			continue
		}
		for i, lang := range Languages {
			req := Parse(sentences[i], in(lang))
			if req.Facts.First(s) == nil || len(req.Loose)+len(req.Unread) > 0 {
				t.Errorf("%s: %q gives no %s: %s", lang, sentences[i], s, said(req))
			}
		}
	}
}

// The parts of a haul cycle, in both languages.
func TestCycleParts(t *testing.T) {
	for part, sentences := range map[string][2]string{"fill": {"fill 6 min", "llenar 6 minutos"}, "drive": {"drive 8 min", "ida 8 minutos"},
		"return": {"8 minutes back", "regreso 8 minutos"}, "spread": {"fill 6 min spread 5 min", "llenar 6 minutos regar 5 minutos"},
		"incorporation": {"incorporated in 4 hours", "incorporado en 4 horas"}} {
		for i, lang := range Languages {
			if req := Parse(sentences[i], in(lang)); req.Facts.Find(engine.Duration, part) == nil {
				t.Errorf("%s: %q has no time to %s: %s", lang, sentences[i], part, said(req))
			}
		}
	}
}
