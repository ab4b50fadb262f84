package parse

import "regexp"

// allMeant reads that all the fields are meant: "how many loads total", "how long to finish
// both", "cuánta semilla entre los dos lotes". Whether there are several the chat knows.
func (b *binder) allMeant() {
	b.req.All = len(b.ctx.Fields) > 0 && allWords.MatchString(b.text) && !bothSeeds.MatchString(b.text)
}

var (
	allWords = regexp.MustCompile(`\b(both|all of (it|them)|all (the |my |our )?(fields|ground|land)|all (two|three|four|five|2|3|4|5)( fields| of them)?|altogether|all together|total|in all|combined|the whole (thing|lot|job|works)|everything|ambos|ambas|los dos|las dos|tod[oa]s (los|las) (lotes|campos|potreros|terrenos|parcelas|tablas|milpas)|todos los (dos|tres|cuatro)|los (tres|cuatro) (lotes|campos)|en todo|todo junto|todos juntos|total de todo)\b`)
	// bothSeeds are no fields.
	bothSeeds = regexp.MustCompile(`\bboth (seeds|crops|kinds|mixes)\b|\b(ambas|las dos) (semillas|mezclas)\b|\blos dos cultivos\b`)
	// forAll: seed for all of it is no load's: "how much seed for both", "cuánta semilla para los dos".
	forAll = regexp.MustCompile(`\b(for|on|do|does|in|para|pa|entre|en|de) (both|all of (it|them)|all (the |my |our )?(fields|ground)|everything|the whole (thing|lot|job)|los dos|las dos|ambos|ambas|tod[oa]s (los|las) (lotes|campos|potreros|parcelas))\b`)
)
