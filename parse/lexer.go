package parse

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// rawToken is a word, a run of digits with its marks, or a sign.
type rawToken struct {
	text     string
	from, to int  // in the folded text
	kind     byte // 'w' word, 'd' digits, 's' sign
	glued    bool // no blank before it
}

// scanner cuts folded text into raw tokens.
type scanner struct {
	raw   []rawToken
	known func(string) bool // is this letter-and-digit run one word ("m3")?
}

func (s *scanner) scan(text string) {
	s.raw = s.raw[:0]
	if cap(s.raw) == 0 {
		s.raw = make([]rawToken, 0, 8+len(text)/4)
	}
	glued := false
	for i := 0; i < len(text); {
		c := text[i]
		if c == ' ' {
			glued = false
			i++
			continue
		}
		from := i
		kind := byte('s')
		switch {
		case isDigit(c) || c == '.' && i+1 < len(text) && isDigit(text[i+1]) && (i == 0 || !isDigit(text[i-1])):
			i, kind = scanDigits(text, i), 'd'
		case isLetter(text, i):
			i, kind = s.scanWord(text, i), 'w'
		default:
			_, n := utf8.DecodeRuneInString(text[i:])
			i += n
		}
		s.raw = append(s.raw, rawToken{text[from:i], from, i, kind, glued})
		glued = true
	}
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

func isLetter(text string, i int) bool {
	c := text[i]
	if c < utf8.RuneSelf {
		return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z'
	}
	r, _ := utf8.DecodeRuneInString(text[i:])
	return unicode.IsLetter(r) || unicode.IsDigit(r)
}

// scanDigits takes digits with the marks inside them: 3,000 · 3.5 · 1.234,5.
func scanDigits(text string, i int) int {
	for i < len(text) {
		switch c := text[i]; {
		case isDigit(c):
		case (c == '.' || c == ',') && i+1 < len(text) && isDigit(text[i+1]):
		default:
			return i
		}
		i++
	}
	return i
}

// scanWord takes letters and the apostrophes inside them; digits behind them too
// when the whole is a known word.
func (s *scanner) scanWord(text string, i int) int {
	from := i
	for i < len(text) {
		if isLetter(text, i) {
			_, n := utf8.DecodeRuneInString(text[i:])
			i += n
		} else if text[i] == '\'' && i > from && i+1 < len(text) && isLetter(text, i+1) {
			i++
		} else {
			break
		}
	}
	if i < len(text) && isDigit(text[i]) {
		j := i
		for j < len(text) && (isDigit(text[j]) || isLetter(text, j)) {
			j++
		}
		if s.known == nil || s.known(text[from:j]) {
			return j
		}
	}
	return i
}

// token is a classified piece of the message.
type token struct {
	class    class
	key      string // canonical sense; for numbers the value, "hi~lo" when a mark could be read two ways
	text     string // folded
	from, to int    // in the folded text
	glued    bool
	word     bool   // it came from letters, not digits or signs
	fix      string // the lexicon word it was read as, when it was misspelt
	used     bool   // its meaning went into a fact, an ask or an act
	span     int8   // raw tokens in it
}

// reader turns one message into tokens. It is used for one message and dropped.
type reader struct {
	folded
	raw    string // the message as written
	ctx    *Context
	lang   string
	tokens []token
	first  *lexicon
	second *lexicon
	buf    []byte
	room   *room
}

// room is scratch space for one message, used again for the next. Nothing of it is
// left in a Request.
type room struct {
	raw     []rawToken
	tokens  []token
	claimed []bool
}

var rooms = sync.Pool{New: func() any { return new(room) }}

// flags is one false flag for each of n tokens.
func (m *room) flags(n int) []bool {
	if cap(m.claimed) < n {
		m.claimed = make([]bool, n+16)
	}
	m.claimed = m.claimed[:n]
	clear(m.claimed)
	return m.claimed
}

// keepRoom keeps what the reader grew, emptied so that no message is held.
func (r *reader) keepRoom() {
	clear(r.tokens)
	clear(r.room.raw)
	r.room.tokens = r.tokens[:0]
}

// lex classifies every raw token: the chat's own field names first, then the
// longest phrase of the message's language, then of the other language, then the
// nearest spelling.
func (r *reader) lex() {
	lx := lexicons()
	s := scanner{raw: r.room.raw, known: knownWord}
	s.scan(r.text)
	r.room.raw = s.raw
	r.lang = pickLanguage(s.raw, lx, r.ctx.Lang)
	r.first, r.second = lx[r.lang], lx[otherLanguage(r.lang)]
	r.tokens = r.room.tokens[:0]
	var stack [64]byte
	r.buf = stack[:0]
	for i := 0; i < len(s.raw); {
		i += r.classify(s.raw, i)
	}
}

// knownWord says whether a run of letters and digits is one word: m3, p2o5.
func knownWord(w string) bool {
	for _, lx := range lexicons() {
		if _, ok := lx.entries[w]; ok {
			return true
		}
	}
	return false
}

func otherLanguage(lang string) string {
	if lang == "en" {
		return "es"
	}
	return "en"
}

// pickLanguage counts the words that only one language has; a tie leaves the
// chat's language.
func pickLanguage(raw []rawToken, lx map[string]*lexicon, chat string) string {
	en, es := 0, 0
	for i := range raw {
		if raw[i].kind != 'w' || raw[i].text == "x" { // 20 ft x 1452 ft is nobody's word
			continue
		}
		inEn, inEs := lx["en"].own[raw[i].text], lx["es"].own[raw[i].text]
		if inEn && !inEs {
			en++
		} else if inEs && !inEn {
			es++
		}
	}
	switch {
	case es > en:
		return "es"
	case en > es || chat == "":
		return "en"
	}
	return chat
}

// classify files the token at raw[i] and says how many raw tokens it took.
func (r *reader) classify(raw []rawToken, i int) int {
	t := raw[i]
	if n := r.matchName(raw, i); n > 0 {
		return n
	}
	if t.kind == 'd' {
		return r.addDigits(raw, i)
	}
	e, ok := r.first.match(raw, i, r.buf)
	if ok && e.class == cNoun && e.words > 1 && (e.key == "acres_per_load" || e.key == "seed_per_load" || e.key == "turnover_time" || e.key == "unload_time") && (r.afterSmallNumber() || endsInOwner(raw, i, e)) {
		e, ok = r.first.entries[t.text] // ".43 acres per load" is an amount, "al tanque de 3000" a tank
	}
	if ok && e.class == cNoun && e.key == "seed_cost" && e.words > 1 && len(r.tokens) > 0 && r.tokens[len(r.tokens)-1].numeric() && r.first.entries[t.text].class == cUnit {
		e = r.first.entries[t.text] // "18 dollars an acre" is an amount
	}
	if ok && e.class == cAct && e.key == "left" && e.words > 1 && len(r.tokens) > 0 && r.tokens[len(r.tokens)-1].numeric() && r.first.entries[t.text].class == cUnit {
		e = r.first.entries[t.text] // "18 acres left" is an amount
	}
	if o, also := r.second.match(raw, i, r.buf); also && (!ok || o.words > e.words) {
		e, ok = o, true
	}
	if base, cut := strings.CutSuffix(t.text, "'s"); cut && (!ok || e.words == 1) {
		if role, found := r.first.entries[base]; found && role.class == cRole {
			e, ok = role, true // "pump's 1200"
		}
	}
	if !ok {
		if t.kind == 'w' {
			return r.addUnknown(raw, i)
		}
		return 1 // a sign that means nothing
	}
	last := raw[i+int(e.words)-1]
	r.tokens = append(r.tokens, token{class: e.class, key: e.key, text: r.text[t.from:last.to], from: t.from, to: last.to,
		glued: t.glued, word: t.kind == 'w', span: e.words})
	return int(e.words)
}

// afterSmallNumber says whether a number under a hundred ends right before.
func (r *reader) afterSmallNumber() bool {
	if len(r.tokens) == 0 {
		return false
	}
	t := &r.tokens[len(r.tokens)-1]
	return t.numeric() && t.class != cScale && len(t.key) < 3 || t.class == cNum && strings.Contains(t.key, ".")
}

// endsInOwner says whether a phrase ends in the word for a tank whose size follows.
func endsInOwner(raw []rawToken, i int, e entry) bool {
	last := i + int(e.words) - 1
	switch raw[last].text {
	case "tanque", "cisterna", "pipa", "tank", "tanker":
	default:
		return false
	}
	next := last + 1
	if next < len(raw) && (raw[next].text == "de" || raw[next].text == "of") {
		next++
	}
	return next < len(raw) && (raw[next].kind == 'd' || raw[next].text == "tres" || raw[next].text == "cuatro" || raw[next].text == "three" || raw[next].text == "four" || raw[next].text == "dos" || raw[next].text == "cinco" || raw[next].text == "seis")
}

// addUnknown files a word that no lexicon has, or the one it is nearly certainly
// a misspelling of.
func (r *reader) addUnknown(raw []rawToken, i int) int {
	t := raw[i]
	tok := token{class: cWord, text: t.text, from: t.from, to: t.to, glued: t.glued, word: true, span: 1}
	if w := r.respell(t.text); w != "" {
		raw[i].text = w // "crimsom clover" is a phrase again
		e, ok := r.first.match(raw, i, r.buf)
		if !ok {
			e, _ = r.second.match(raw, i, r.buf)
		}
		raw[i].text = t.text
		if e.class == cUnit || e.class == cCrop {
			w = e.head // the row lists common misspellings too
		}
		last := raw[i+int(e.words)-1]
		tok.class, tok.key, tok.fix, tok.span = e.class, e.key, w, e.words
		tok.to, tok.text = last.to, r.text[t.from:last.to]
	}
	r.tokens = append(r.tokens, tok)
	return int(tok.span)
}

// matchName finds one of the chat's own field names, longest first.
func (r *reader) matchName(raw []rawToken, i int) int {
	best, bestName := 0, ""
	for _, name := range r.ctx.Fields {
		if n := nameLength(raw, i, name); n > best {
			best, bestName = n, name
		}
	}
	if best == 0 {
		return 0
	}
	last := raw[i+best-1]
	r.tokens = append(r.tokens, token{class: cName, key: bestName, text: r.text[raw[i].from:last.to], from: raw[i].from, to: last.to,
		glued: raw[i].glued, word: true, span: int8(best)})
	return best
}

// nameLength is how many raw tokens from i spell name, 0 when they do not. A name
// of one number ("12") is only a name behind a word for a field, which the
// binding rules see to, so it is not matched here.
func nameLength(raw []rawToken, i int, name string) int {
	name = fold(name).text
	if strings.IndexFunc(name, unicode.IsLetter) < 0 {
		return 0
	}
	n := 0
	for ; name != "" && i+n < len(raw); n++ {
		rest, ok := strings.CutPrefix(name, raw[i+n].text)
		if !ok {
			return 0
		}
		name = strings.TrimLeft(rest, " ")
	}
	if name != "" {
		return 0
	}
	return n
}
