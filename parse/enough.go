package parse

import "strings"

// What a yes or no about an answer that was just given can be about.
const (
	EnoughNeed  = "need"  // "is that enough", "¿alcanza?"
	EnoughLimit = "limit" // "are we ok", "nos pasamos?"
)

// enough reads a message that says no number and asks whether the answer before it will do:
// every word of it is a small one, or says so.
func (b *binder) enough() {
	if len(b.qs) > 0 || len(b.text) > 80 {
		return
	}
	words := strings.FieldsFunc(b.text, func(r rune) bool { return strings.ContainsRune(" .,!?¿¡", r) })
	if len(words) == 0 || len(words) > 8 || !b.has(cQuestion) && !askingWord[words[0]] {
		return
	}
	kind := ""
	for _, w := range words {
		switch k := willDo[w]; {
		case k == EnoughNeed, k != "" && kind == "":
			kind = k
		case k == "" && !smallWord[w]:
			return
		}
	}
	b.req.Enough = kind
}

// willDo are the words that a judgement hangs on.
var willDo = map[string]string{"enough": EnoughNeed, "sufficient": EnoughNeed, "suficiente": EnoughNeed, "alcanza": EnoughNeed, "alcanzara": EnoughNeed, "alcanzaria": EnoughNeed, "basta": EnoughNeed,
	"ok": EnoughLimit, "okay": EnoughLimit, "alright": EnoughLimit, "fine": EnoughLimit, "over": EnoughLimit, "under": EnoughLimit, "within": EnoughLimit, "limit": EnoughLimit, "legal": EnoughLimit, "allowed": EnoughLimit,
	"bien": EnoughLimit, "pasamos": EnoughLimit, "paso": EnoughLimit, "limite": EnoughLimit, "dentro": EnoughLimit, "permitido": EnoughLimit}

// askingWord are the words that such a question opens with where no mark ends it.
var askingWord = map[string]bool{"is": true, "are": true, "am": true, "will": true, "would": true, "does": true, "so": true, "es": true, "alcanza": true, "estamos": true, "vamos": true, "nos": true, "me": true, "con": true}

// smallWord are the words that stand beside it, the crop and the nutrient among them.
var smallWord = map[string]bool{"is": true, "that": true, "thats": true, "that's": true, "it": true, "this": true, "are": true, "we": true, "am": true, "i": true, "will": true, "would": true, "be": true, "do": true, "does": true, "the": true, "on": true,
	"for": true, "now": true, "then": true, "there": true, "so": true, "and": true, "crop": true, "corn": true, "here": true, "n": true, "p": true, "nitrogen": true, "phosphate": true, "phosphorus": true, "our": true, "my": true, "still": true, "with": true,
	"es": true, "eso": true, "esto": true, "con": true, "me": true, "nos": true, "le": true, "al": true, "el": true, "la": true, "del": true, "de": true, "cultivo": true, "maiz": true, "y": true, "para": true, "asi": true, "ya": true, "vamos": true,
	"estamos": true, "esta": true, "fosfato": true, "fosforo": true, "nitrogeno": true, "todavia": true, "aqui": true}
