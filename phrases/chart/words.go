package chart

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"tankside/engine"
	"tankside/engine/unit"
	"tankside/phrases"
)

// words are a language's texts in pictures and captions.
type words struct {
	months                                               [12]string
	date                                                 string // month, day
	dayTitle, dayIn, loads, load, anHour, target, behind string
	ahead, even, dayFrom, pace, targetIs, done, timeOf   string
	clock                                                func(time.Time) string

	fieldsTitle, fieldDone, ofField, sizeUnknown, more, noName string

	gateTitle, gateGives, gateRuns, recorded, chosen, curve, gateMark, gateNoCurve string

	jarsTitle, likeChance, likeNot, jar, seeds, mean, chance, outside, inside, outsideAre, jarsCount string

	tankTitle, stirFirst, stirred, notStirred, share, out, wellMixed, flows, reachedAt, never, atBest string
}

var english = words{
	months: [12]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"},
	date:   "%[1]s %[2]d", clock: func(t time.Time) string { return t.Format("3:04 pm") },
	dayTitle: "Loads on %s", dayIn: "Loads on %s: %s", loads: "%s loads", load: "%s load", anHour: "%s an hour", target: "target: %s an hour",
	behind: "%s behind the target", ahead: "%s ahead of the target", even: "on target",
	dayFrom: "%s from %s to %s", pace: "%s an hour since the first", targetIs: "The target of %s an hour asked for %s: %s.", done: "loads done",
	timeOf: "time of day",

	fieldsTitle: "How far the fields are", fieldDone: "%s of %s done", ofField: "%s of %s (%s)", sizeUnknown: "%s done, size not said",
	more: "and %d more", noName: "field without a name",

	gateTitle: "Gate and flow", gateGives: "Gate %s gives %s", gateRuns: "%d recorded runs", recorded: "recorded runs", chosen: "chosen",
	curve: "curve through the runs", gateMark: "gate opening", gateNoCurve: "One recorded run: no curve yet",

	jarsTitle: "Seed in the jars", likeChance: "No more uneven than chance", likeNot: "More uneven than chance", jar: "jar, in the order taken",
	seeds: "seeds in a jar", mean: "mean %s", chance: "chance allows %s to %s", outside: "outside it", inside: "All jars are inside.",
	outsideAre: "Outside: %s.", jarsCount: "%d jars: %s",

	tankTitle: "Mixing through a load", stirFirst: "Stir %s min with the gate shut: %s %% mixed", stirred: "stirred first", notStirred: "not stirred first",
	share: "mixed at best, %", out: "%s spread", wellMixed: "95 % mixed", flows: "Tank of %s, pump %s: %s go out and %s back.",
	reachedAt: "Without stirring, 95 %% is reached only when %s are out.", never: "Without stirring, 95 % is not reached in the load.",
	atBest: "Corners and floating seed mix slower than this.",
}

var spanish = words{
	months: [12]string{"ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic"},
	date:   "%[2]d %[1]s", clock: func(t time.Time) string { return t.Format("3:04 pm") },
	dayTitle: "Cargas del %s", dayIn: "Cargas del %s: %s", loads: "%s cargas", load: "%s carga", anHour: "%s por hora", target: "meta: %s por hora",
	behind: "%s por debajo de la meta", ahead: "%s por encima de la meta", even: "según la meta",
	dayFrom: "%s de %s a %s", pace: "%s por hora desde la primera", targetIs: "La meta de %s por hora pedía %s: %s.", done: "cargas hechas",
	timeOf: "hora del día",

	fieldsTitle: "Avance de los campos", fieldDone: "%s de %s hechas", ofField: "%s de %s (%s)", sizeUnknown: "%s hechas, tamaño sin decir",
	more: "y %d más", noName: "campo sin nombre",

	gateTitle: "Compuerta y caudal", gateGives: "Compuerta %s da %s", gateRuns: "%d pruebas anotadas", recorded: "pruebas anotadas", chosen: "elegido",
	curve: "curva por las pruebas", gateMark: "abertura de la compuerta", gateNoCurve: "Una sola prueba: aún no hay curva",

	jarsTitle: "Semilla en los frascos", likeChance: "No más disparejo que el azar", likeNot: "Más disparejo que el azar", jar: "frasco, en el orden tomado",
	seeds: "semillas por frasco", mean: "media %s", chance: "el azar permite de %s a %s", outside: "fuera de eso", inside: "Todos los frascos están dentro.",
	outsideAre: "Fuera: %s.", jarsCount: "%d frascos: %s",

	tankTitle: "Mezcla durante una carga", stirFirst: "Mezcle %s min con la compuerta cerrada: %s %% mezclado", stirred: "mezclado antes", notStirred: "sin mezclar antes",
	share: "mezclado cuando mucho, %", out: "%s aplicados", wellMixed: "95 % mezclado", flows: "Tanque de %s, bomba %s: %s salen y %s regresan.",
	reachedAt: "Sin mezclar antes, el 95 %% se alcanza cuando ya salieron %s.", never: "Sin mezclar antes, el 95 % no se alcanza en la carga.",
	atBest: "Los rincones y la semilla que flota se mezclan más despacio.",
}

func wordsOf(lang string) *words {
	if lang == "es" {
		return &spanish
	}
	return &english
}

// day is a date without its year.
func (w *words) day(t time.Time) string { return fmt.Sprintf(w.date, w.months[t.Month()-1], t.Day()) }

// number writes v with at most so many decimals and thousands set apart.
func number(v float64, decimals int) string {
	by := math.Pow10(decimals)
	text := strconv.FormatFloat(math.Round(v*by)/by, 'f', -1, 64)
	whole, part, dot := strings.Cut(text, ".")
	minus := strings.HasPrefix(whole, "-")
	whole = strings.TrimPrefix(whole, "-")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if minus && whole+part != "0" {
		whole = "−" + whole
	}
	if dot {
		return whole + "." + part
	}
	return whole
}

// loadsOf is a number of loads with its noun.
func (w *words) loadsOf(n float64) string {
	text := number(n, 1)
	if text == "1" {
		return fmt.Sprintf(w.load, text)
	}
	return fmt.Sprintf(w.loads, text)
}

// in is a value in the unit that the chat uses for a quantity.
func (c *canvas) in(s engine.Slot, base float64) float64 { return c.units.UnitFor(s).FromBase(base) }

// unitOf is the name of that unit, for many.
func (c *canvas) unitOf(s engine.Slot) string {
	return phrases.UnitWord(c.lang, c.units.UnitFor(s), 2)
}

// decimals is how fine a quantity is shown.
func (c *canvas) decimals(s engine.Slot) int {
	switch u := c.units.UnitFor(s); {
	case u.Dim == unit.DimArea:
		return 2
	case u.Symbol == "m3":
		return 1
	}
	return 0
}

// amount is a value in the chat's unit, with its name.
func (c *canvas) amount(s engine.Slot, base float64) string {
	text := number(c.in(s, base), c.decimals(s))
	n := 2.0
	if text == "1" {
		n = 1
	}
	return text + " " + phrases.UnitWord(c.lang, c.units.UnitFor(s), n)
}
