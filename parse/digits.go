package parse

import (
	"strconv"
	"strings"
)

// addDigits files a number written in digits: 3,000 · 3 000 · 3k · 1/2 · 2:15.
// It returns how many raw tokens it took.
func (r *reader) addDigits(raw []rawToken, i int) int {
	t := raw[i]
	next := func(n int) rawToken {
		if i+n < len(raw) {
			return raw[i+n]
		}
		return rawToken{}
	}
	add := func(n int, c class, key string) int {
		last := raw[i+n-1]
		r.tokens = append(r.tokens, token{class: c, key: key, text: r.text[t.from:last.to], from: t.from, to: last.to, glued: t.glued, span: int8(n)})
		return n
	}
	if c := next(1); c.text == ":" && c.glued && next(2).kind == 'd' && next(2).glued && len(next(2).text) == 2 {
		if key := clockKey(t.text, next(2).text); key != "" {
			return add(3, cClock, key)
		}
	}
	if key := fractionKey(t.text, next(1), next(2)); key != "" {
		return add(3, cNumFrac, key)
	}
	if w := next(1); w.kind == 'w' && w.glued && isOrdinalEnd(w.text) {
		return add(2, cOrd, t.text)
	}
	key, n := readMarks(t.text, r.ctx.Units.Comma), 1
	for joinsThousands(raw, i, n, r.previousIsLabel()) {
		key += raw[i+n].text
		n++
	}
	if w := next(n); w.kind == 'w' && w.glued && w.text == "k" && !next(n+1).glued || w.kind == 'w' && w.glued && w.text == "k" && next(n+1).kind != 'w' {
		r.tokens = append(r.tokens, token{class: cNum, key: key, text: r.text[t.from:raw[i+n-1].to], from: t.from, to: raw[i+n-1].to, glued: t.glued, span: int8(n)})
		r.tokens = append(r.tokens, token{class: cScale, key: "1000", text: "k", from: w.from, to: w.to, glued: true, span: 1})
		return n + 1
	}
	return add(n, cNum, key)
}

func isOrdinalEnd(s string) bool {
	switch s {
	case "st", "nd", "rd", "th", "ra", "da", "ta", "er", "ro", "do", "to", "va", "vo":
		return true
	}
	return false
}

// joinsThousands says whether the group at raw[i+n] goes on a number written with
// blanks ("3 000", "12 500"): exactly three digits that end in a nought, behind
// one to three, and not behind a word that numbers things ("gate 4 620").
func joinsThousands(raw []rawToken, i, n int, labelled bool) bool {
	if i+n >= len(raw) || labelled {
		return false
	}
	g := raw[i+n]
	head := raw[i].text
	if g.kind != 'd' || g.glued || len(g.text) != 3 || len(head) > 3 || strings.ContainsAny(head+g.text, ".,") {
		return false
	}
	if g.from != raw[i+n-1].to+1 || g.text[2] != '0' || head[0] == '0' {
		return false
	}
	return g.text == "000" || i+n+1 < len(raw) && raw[i+n+1].kind == 'w' && groupUnit[raw[i+n+1].text]
}

// groupUnit are the words behind which a blank inside a number is a thousands
// mark: volumes and what is counted in thousands.
var groupUnit = map[string]bool{"gal": true, "gals": true, "gallon": true, "gallons": true, "l": true, "litre": true, "litres": true, "liter": true,
	"liters": true, "gpa": true, "galones": true, "litros": true, "per": true, "por": true, "an": true}

// previousIsLabel says whether the word before numbers things rather than
// measures them: gate 4, load 4.
func (r *reader) previousIsLabel() bool {
	if len(r.tokens) == 0 {
		return false
	}
	p := &r.tokens[len(r.tokens)-1]
	return p.class == cRole && (p.key == "gate" || p.key == "load" || p.key == "field" || p.key == "jar") || p.class == cLabel
}

// readMarks turns digits with marks into a plain number: "3,000" is 3000, "7,5"
// 7.5, "1.234,5" 1234.5. "3.000" could be three thousand or three: it becomes
// "3000~3", and what it is of decides. Where a chat writes its decimals behind a
// comma, "3.000" is three thousand and "3,000" the one that could be three.
func readMarks(s string, decimalComma bool) string {
	dot, comma := strings.LastIndexByte(s, '.'), strings.LastIndexByte(s, ',')
	switch {
	case dot < 0 && comma < 0:
		return s
	case dot >= 0 && comma >= 0:
		thousands, decimal := ",", "."
		if comma > dot {
			thousands, decimal = ".", ","
		}
		if strings.Count(s, decimal) > 1 {
			return strings.NewReplacer(".", "", ",", "").Replace(s)
		}
		return strings.Replace(strings.ReplaceAll(s, thousands, ""), decimal, ".", 1)
	}
	mark := s[max(dot, comma)]
	if !groups(s, mark) {
		if strings.Count(s, string(mark)) > 1 {
			return "?" // 1.2.3, 12,5,6: no number
		}
		return strings.Replace(s, ",", ".", 1)
	}
	joined := strings.ReplaceAll(s, string(mark), "")
	if (mark == ',') != decimalComma || strings.Count(s, string(mark)) > 1 {
		return joined
	}
	return joined + "~" + strings.Replace(s, ",", ".", 1)
}

// decimalMark is how the digits of a message show that its writer marks decimals:
// ',' for "3,2", "1.234,5" and a "10.000" that is ten thousand, '.' for "3.2" and
// "1,234.5", 0 where they show nothing or both.
func (b *binder) decimalMark() byte {
	var mark byte
	for k := range b.qs {
		q := &b.qs[k]
		t := b.at(q.i)
		at := strings.LastIndexAny(t.text, ".,")
		if t.class != cNum || at < 0 || !strings.ContainsAny(t.key, ".~") {
			continue
		}
		m := t.text[at]
		if strings.Contains(t.key, "~") && q.min >= 1000 { // it marks the thousands
			m = '.' + ',' - m
		}
		if mark != 0 && mark != m {
			return 0
		}
		mark = m
	}
	return mark
}

// groups says whether mark stands before groups of exactly three digits and
// behind one to three that do not start with a nought.
func groups(s string, mark byte) bool {
	parts := strings.Split(s, string(mark))
	if len(parts[0]) == 0 || len(parts[0]) > 3 || parts[0][0] == '0' {
		return false
	}
	for _, p := range parts[1:] {
		if len(p) != 3 {
			return false
		}
	}
	return true
}

// fractionKey is the value of a fraction as people write them: halves, thirds,
// quarters, fifths, eighths and sixteenths below one. 6000/8000 is none.
func fractionKey(num string, slash, den rawToken) string {
	if slash.text != "/" || !slash.glued || den.kind != 'd' || !den.glued {
		return ""
	}
	n, err1 := strconv.Atoi(num)
	d, err2 := strconv.Atoi(den.text)
	if err1 != nil || err2 != nil || n < 1 || n >= d {
		return ""
	}
	switch d {
	case 2, 3, 4, 5, 8, 10, 16:
		return strconv.FormatFloat(float64(n)/float64(d), 'g', -1, 64)
	}
	return ""
}

// clockKey is minutes past midnight for h:mm, "" when it is no time of day.
func clockKey(h, m string) string {
	hours, err1 := strconv.Atoi(h)
	minutes, err2 := strconv.Atoi(m)
	if err1 != nil || err2 != nil || hours > 24 || minutes > 59 {
		return ""
	}
	return strconv.Itoa(hours*60 + minutes)
}
