package parse

import "regexp"

// allMeant reads that all the fields are meant: "how many loads total", "how long to finish
// both", "cuánta semilla entre los dos lotes". Whether there are several the chat knows.
func (b *binder) allMeant() {
	b.req.All = allWords.MatchString(b.text) && !perWords.MatchString(b.text)
}

var (
	allWords = regexp.MustCompile(`\b(both|all of (it|them)|all (the |my |our )?(fields|ground|land)|all (two|three|four|five|2|3|4|5)( fields| of them)?|altogether|all together|total|in all|combined|the whole (thing|lot|job|works)|everything|ambos|ambas|los dos|las dos|tod[oa]s (los|las) (lotes|campos|potreros|terrenos|parcelas|tablas|milpas)|todos los (dos|tres|cuatro)|los (tres|cuatro) (lotes|campos)|en todo|todo junto|todos juntos|total de todo)\b`)
	// perWords: of one load or one acre both seeds, or all of it, are no fields.
	perWords = regexp.MustCompile(`\b(per|each|a|an|one|por|cada) (load|tank|acre|ha|hectare|carga|tanque|pipa|hectarea|viaje)\b|\bboth (seeds|crops|kinds|mixes)\b|\bambas semillas\b|\blas dos semillas\b`)
)
