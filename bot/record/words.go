package record

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"tankside/engine/unit"
	"tankside/phrases"
)

// words are a language's texts in a record.
type words struct {
	title, period, made, page                              string
	day, time, field, load, share, volume, area, rate      string
	seed, operator, notes, state, counts                   string
	total, dayTotal, fieldTotal, grandTotal, loads         string
	takenBack, stands, noName, from, to, planned, achieved string
	overField, notYet, fieldArea, lots, nutrients, perArea string
	scheme, tested, missing, nothing, tank, tag, tagged    string
	row, loadRow, totalRow, toldRow, item, value, legal    string
	loadsTab, daysTab, notesTab, noLoads, complete         string
	why                                                    map[string]string
	items                                                  map[Item]string
}

var english = words{
	title: "Record of slurry and seed", period: "%s to %s", made: "made %s", page: "page %d",
	day: "date", time: "time", field: "field", load: "load", share: "tank share", volume: "slurry", area: "ground", rate: "planned rate",
	seed: "seed", operator: "operator", notes: "notes", state: "state", counts: "counts",
	total: "total", dayTotal: "total of the day", fieldTotal: "Totals by field", grandTotal: "grand total", loads: "loads",
	takenBack: "taken back %s: %s", stands: "stands", noName: "(no name)", from: "from", to: "to", planned: "planned rate", achieved: "rate achieved",
	overField: "over the whole field", notYet: "known once the field is closed and its size is said", fieldArea: "field size", lots: "seed lots",
	nutrients: "nutrients applied", perArea: "%s: %s %s (%s %s)", scheme: "first-year nitrogen by the %s table",
	tested: "by the analysis given %s", missing: "Missing", nothing: "Nothing is missing.",
	row: "row", loadRow: "load", totalRow: "total", toldRow: "told", item: "item", value: "value",
	legal:    "Made from the operator's own log. Not a legal document: check what local rules ask for, and sign it yourself.",
	loadsTab: "Loads", daysTab: "Days", notesTab: "Notes", tank: "full load", tag: "seed tag", tagged: "purity %s, germination %s, given %s", noLoads: "No load was logged in this time.", complete: "signed",
	why: map[string]string{"undo": "undone", "corrected": "corrected", "edited": "message edited", "": "taken back"},
	items: map[Item]string{WeatherBefore: "weather, 24 h before", Weather: "weather, while spreading", WeatherAfter: "weather, 24 h after", Forecast: "forecast",
		Soil: "soil state", Method: "method", Source: "manure source", Setback: "setbacks", Lot: "seed lot", Operator: "operator", FieldName: "field name",
		FieldArea: "field size", Analysis: "manure analysis"},
}

var spanish = words{
	title: "Registro de purín y semilla", period: "%s a %s", made: "hecho %s", page: "página %d",
	day: "fecha", time: "hora", field: "campo", load: "carga", share: "parte del tanque", volume: "purín", area: "terreno", rate: "dosis planeada",
	seed: "semilla", operator: "operador", notes: "notas", state: "estado", counts: "cuenta",
	total: "total", dayTotal: "total del día", fieldTotal: "Totales por campo", grandTotal: "total general", loads: "cargas",
	takenBack: "anulada %s: %s", stands: "vale", noName: "(sin nombre)", from: "de", to: "a", planned: "dosis planeada", achieved: "dosis lograda",
	overField: "en todo el campo", notYet: "se sabe al cerrar el campo, con su tamaño dicho", fieldArea: "tamaño del campo", lots: "lotes de semilla",
	nutrients: "nutrientes aplicados", perArea: "%s: %s %s (%s %s)", scheme: "nitrógeno del primer año según la tabla de %s",
	tested: "según el análisis dado %s", missing: "Falta", nothing: "No falta nada.",
	row: "renglón", loadRow: "carga", totalRow: "total", toldRow: "dicho", item: "asunto", value: "valor",
	legal:    "Hecho del registro propio del operador. No es un documento legal: revise qué piden las reglas locales y fírmelo usted.",
	loadsTab: "Cargas", daysTab: "Días", notesTab: "Notas", tank: "carga llena", tag: "etiqueta de semilla", tagged: "pureza %s, germinación %s, dada %s", noLoads: "No se anotó ninguna carga en este tiempo.", complete: "firma",
	why: map[string]string{"undo": "deshecha", "corrected": "corregida", "edited": "mensaje editado", "": "anulada"},
	items: map[Item]string{WeatherBefore: "clima, 24 h antes", Weather: "clima al aplicar", WeatherAfter: "clima, 24 h después", Forecast: "pronóstico",
		Soil: "estado del suelo", Method: "método", Source: "origen del estiércol", Setback: "distancias", Lot: "lote de semilla", Operator: "operador",
		FieldName: "nombre del campo", FieldArea: "tamaño del campo", Analysis: "análisis del estiércol"},
}

func (r *Record) words() *words {
	if r.Lang == "es" {
		return &spanish
	}
	return &english
}

// number writes v with so many decimals at most, for people: thousands set apart.
func number(v float64, decimals int) string {
	text := strconv.FormatFloat(round(v, decimals), 'f', decimals, 64)
	whole, part, _ := strings.Cut(text, ".")
	for i := len(whole) - 3; i > 0 && whole[i-1] != '-'; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if part != "" {
		return whole + "." + part
	}
	return whole
}

// share is a part of a tank or a count of loads, as short as it goes.
func share(v float64) string { return strconv.FormatFloat(round(v, 3), 'f', -1, 64) }

// bare is a figure for programs to read.
func bare(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// among writes a range, or one figure where both ends are shown alike.
func among(band [2]float64, u *unit.Unit) string {
	lo, hi := number(u.FromBase(band[0]), decimalsOf(u)), number(u.FromBase(band[1]), decimalsOf(u))
	if lo == hi {
		return lo
	}
	return lo + "–" + hi
}

// unitName is a unit in full.
func (r *Record) unitName(u *unit.Unit) string { return phrases.UnitWord(r.Lang, u, 2) }

func (r *Record) crop(name string) string { return phrases.CropWord(r.Lang, name) }

func (w *words) fieldName(name string) string {
	if name == "" {
		return w.noName
	}
	return name
}

// clock is a time of day as people here write it.
func clock(t time.Time) string { return t.Format("3:04 pm") }

// stateOf tells what became of a line.
func (r *Record) stateOf(l *Line) string {
	w := r.words()
	if l.Stands() {
		return w.stands
	}
	why, ok := w.why[l.Why]
	if !ok {
		why = l.Why
	}
	return fmt.Sprintf(w.takenBack, l.Cancelled.In(l.When.Location()).Format("2006-01-02 15:04"), why)
}

// gapText tells what is missing, without its day and field.
func (r *Record) gapText(g Gap) string {
	text := r.words().items[g.Item]
	if g.Of != "" {
		text += " (" + r.crop(g.Of) + ")"
	}
	return text
}
