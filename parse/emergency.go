package parse

import (
	"regexp"
	"slices"
	"strings"
)

// emergency finds that somebody is down or in a tank: "my hired man climbed in the tank",
// "se me cayó mi compañero dentro de la fosa", "he passed out by the pit". Whether one may
// climb in is a question of caution, not this.
func (b *binder) emergency() {
	person := false
	for i := range b.tokens {
		text := b.tokens[i].text
		if i < 3 && mayWords[text] || text == "never" || text == "before" || text == "if" || text == "si" {
			if wayIn.MatchString(b.text) {
				b.addInfo("safety_confined") // "can my man climb in", "what if somebody falls in"
			}
			return
		}
		person = person || oneOf(text, personWords)
	}
	down := b.saysAny(downWords)
	if !down && b.onlyWished() {
		b.req.Info = slices.DeleteFunc(b.req.Info, func(k string) bool { return k == "safety_emergency" })
		b.addInfo("safety_confined")
		return
	}
	if !(person && (down || intoTank.MatchString(b.text)) || down && b.saysAny(urgentDown)) {
		return
	}
	b.addInfo("safety_emergency")
}

// onlyWished says whether nobody is in the tank yet: "he wants to climb down in the tank to
// unplug it". Any other word of an emergency makes it one.
func (b *binder) onlyWished() bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cInfo && t.key == "safety_emergency" && t.text != "down in the tank" {
			return false
		}
	}
	return wishedIn.MatchString(b.text) && !intoTank.MatchString(b.text)
}

func (b *binder) addInfo(key string) {
	if !slices.Contains(b.req.Info, key) {
		b.req.Info = append(b.req.Info, key)
	}
}

// saysAny says whether one of the phrases stands in the message.
func (b *binder) saysAny(phrases []string) bool {
	for _, p := range phrases {
		if containsWords(b.text, p) {
			return true
		}
	}
	return false
}

// containsWords says whether the words stand in the text as words.
func containsWords(text, words string) bool {
	for i := 0; i+len(words) <= len(text); i++ {
		if text[i:i+len(words)] == words && (i == 0 || !letter(text[i-1])) && (i+len(words) == len(text) || !letter(text[i+len(words)])) {
			return true
		}
	}
	return false
}

// oneOf says whether one of the words of a text is in the set.
func oneOf(text string, set map[string]bool) bool {
	for {
		word, rest, more := strings.Cut(text, " ")
		if set[word] {
			return true
		}
		if !more {
			return false
		}
		text = rest
	}
}

func letter(c byte) bool { return c >= 'a' && c <= 'z' }

func words(list ...string) map[string]bool {
	out := make(map[string]bool, len(list))
	for _, w := range list {
		out[w] = true
	}
	return out
}

const tankInText = `( [a-z']+){0,3} (down|in|into|inside|in to|dentro|adentro|en|a|al|down in|de)( de| del)?( the| la| el| un| una| a| my| our)?( empty| slurry| manure)? (tank|pit|lagoon|tanker|fosa|tanque|pila|laguna|pipa|cisterna|foso)\b`

// intoTank is somebody's way into a tank or a pit; wayIn a wish to go there.
var (
	intoTank = regexp.MustCompile(`\b(fell|fallen|climbed|went|jumped|dropped|slipped|got stuck|got in|is|stuck|cayo|caido|metio|resbalo|entro|bajo|esta|atorado)` + tankInText)
	wishedIn = regexp.MustCompile(`\b(wants? to|wanna|want me to|hafta|quiere)( go| climb| crawl| get| hop| meterse| bajar| bajarse| entrar)`)
	wayIn    = regexp.MustCompile(`\b(enter|climb|crawl|go|get|hop|falls|entrar|meter|meterse|bajar|bajarse|entre|meta|caer|cae)` + tankInText)
)

var (
	mayWords    = words("can", "may", "should", "could", "puede", "podemos", "puedo", "debo", "is it ok", "is it safe")
	personWords = words("man", "guy", "hand", "helper", "kid", "kids", "boy", "girl", "son", "daughter", "brother", "dad", "father", "wife", "he", "she", "him", "somebody", "someone", "worker", "driver", "buddy",
		"partner", "neighbor", "neighbour", "operator", "uncle", "grandpa", "cousin", "companero", "muchacho", "hijo", "hija", "hermano", "papa", "ayudante", "trabajador", "alguien", "senor", "patron", "chavo", "operador", "nino", "primo", "tio", "compa", "amigo", "esposa", "empleado")
	downWords  = []string{"passed out", "collapsed", "unconscious", "not breathing", "isnt breathing", "isn't breathing", "fainted", "blacked out", "isnt moving", "isn't moving", "se desmayo", "desmayado", "no respira", "no responde", "inconsciente", "no contesta", "no se mueve"}
	urgentDown = []string{"not breathing", "isnt breathing", "isn't breathing", "unconscious", "no respira", "inconsciente", "se desmayo"}
)
