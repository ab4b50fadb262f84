package parse

import "strconv"

// clocks finds times of day and makes one token of each, its key the minutes past
// midnight: 2:15 · 2:15 pm · 2 pm · 6:40a · two o'clock · quarter past two · half
// past six · quarter to three · a las dos y cuarto · las tres menos cuarto.
func (r *reader) clocks() {
	for i := 0; i < len(r.tokens); i++ {
		switch {
		case r.spokenPast(i), r.spanishTime(i), r.plainHour(i), r.spokenHour(i):
		}
		if r.tokens[i].class == cClock {
			r.halfDay(i)
		}
	}
}

// hour reads token i as an hour of the day.
func (r *reader) hour(i int) (int, bool) {
	t := r.at(i)
	if t.class != cNum && !(t.class == cUn) {
		return 0, false
	}
	n, err := strconv.Atoi(t.key)
	return n, err == nil && n >= 1 && n <= 12
}

// setClock turns tokens i..j into one time.
func (r *reader) setClock(i, j, minutes int) {
	minutes = (minutes + 1440) % 1440
	r.tokens[i].be(cClock, strconv.Itoa(minutes))
	r.tokens[i].to, r.tokens[i].text = r.tokens[j].to, r.text[r.tokens[i].from:r.tokens[j].to]
	for k := i + 1; k <= j; k++ {
		r.tokens[k].class = cSkip
	}
}

// spokenPast: "quarter past two", "half past six", "ten to four", "quarter of
// three", "un cuarto para las tres".
func (r *reader) spokenPast(i int) bool {
	t := r.at(i)
	minutes := 0
	if h, ok := r.hour(i + 1); ok && t.class == cFrac && t.key == "0.5" && t.text == "half" && r.at(i-1).class == cAt && r.at(i+2).class != cUnit && r.at(i+2).class != cScale {
		r.setClock(i, i+1, h*60+30) // at half two, as said in the UK and Ireland
		return true
	}
	switch {
	case t.class == cFrac && t.key == "0.25":
		minutes = 15
	case t.class == cFrac && t.key == "0.5" && r.at(i+1).key == "past":
		minutes = 30
	case t.class == cNum && (r.at(i+1).class == cTime || t.word && r.at(i+1).text == "to" && r.at(i-1).class == cAt && r.logs()):
		if n, err := strconv.Atoi(t.key); err == nil && n > 0 && n < 60 {
			minutes = n
		}
	}
	if minutes == 0 {
		return false
	}
	j, sign := i+1, 0
	switch w := r.at(j); {
	case w.class == cTime && w.key == "past":
		sign = 1
	case w.class == cTime && w.key == "to", minutes == 15 && (w.text == "of" || w.text == "para"), w.text == "to":
		sign = -1
	}
	if r.at(j+1).text == "las" || r.at(j+1).text == "la" {
		j++
	}
	h, ok := r.hour(j + 1)
	if c := r.at(j + 2); sign == 0 || !ok || c.class == cUnit || c.class == cScale || c.counted() {
		return false
	}
	r.setClock(i, j+1, h*60+sign*minutes)
	return true
}

// spanishTime: "a las dos y cuarto", "a las tres menos diez", "a la una y media".
func (r *reader) spanishTime(i int) bool {
	if t := r.at(i); t.class != cATime && !(t.text == "a la" && r.at(i+1).text == "una") && !r.tellsTime(i) {
		return false
	}
	h, ok := r.hour(i + 1)
	if c := r.at(i + 1); c.class == cClock {
		r.tokens[i].class = cFiller
		return false
	}
	if !ok || r.at(i+2).class == cUnit || r.at(i+2).class == cScale {
		if !r.tellsTime(i) {
			r.tokens[i].be(cFiller, "a")
		}
		return false
	}
	minutes, j := h*60, i+1
	if w := r.at(j + 1); w.text == "y" || w.text == "menos" {
		sign := 1
		if w.text == "menos" {
			sign = -1
		}
		k := j + 2
		if r.at(k).class == cUn {
			k++
		}
		part := r.at(k)
		switch n, err := strconv.Atoi(part.key); {
		case part.class == cFrac && part.key == "0.25":
			minutes, j = minutes+sign*15, k
		case part.class == cFrac && part.key == "0.5":
			minutes, j = minutes+30, k
		case part.class == cNum && err == nil && n < 60:
			minutes, j = minutes+sign*n, k
		}
	}
	r.setClock(i, j, minutes)
	return true
}

// tellsTime: "son las once y cuarto", "ya es la una": the hour it is, and nothing counted.
func (r *reader) tellsTime(i int) bool {
	t, prev := r.at(i), r.at(i-1).text
	if t.text != "las" && t.text != "la" || prev != "son" && prev != "eran" && prev != "es" && prev != "seran" {
		return false
	}
	_, ok := r.hour(i + 1)
	c := r.at(i + 2)
	return ok && !c.counted() && c.class != cCrop && c.class != cUnit
}

// spokenHour: "log load at seven thirty": hour and minutes in words, behind "at" where
// a load is logged, and nothing behind them that they could measure.
func (r *reader) spokenHour(i int) bool {
	h, ok := r.hour(i)
	m := r.at(i + 1)
	if m.class != cNum {
		return false
	}
	minutes, err := strconv.Atoi(m.key)
	if !ok || !r.at(i).word || r.at(i-1).class != cAt || m.class != cNum || !m.word || err != nil || minutes < 10 || minutes > 59 || !r.logs() {
		return false
	}
	j := i + 1
	if ones := r.at(i + 2); isTens(m.key) && ones.class == cNum && ones.word && len(ones.key) == 1 {
		n, _ := strconv.Atoi(ones.key)
		minutes, j = minutes+n, i+2
	}
	switch c := r.at(j + 1); c.class {
	case cUnit, cClash, cScale, cPer, cArt, cSlash, cNum, cPoint, cAnd, cRange:
		return false
	}
	r.setClock(i, j, h*60+minutes)
	return true
}

// logs says whether the message logs a load or corrects one.
func (r *reader) logs() bool {
	for i := range r.tokens {
		if t := &r.tokens[i]; t.class == cAct && (t.key == "log" || t.key == "done" || t.key == "correct") {
			return true
		}
	}
	return false
}

// plainHour: "2 pm", "two o'clock", "noon".
func (r *reader) plainHour(i int) bool {
	t, next := r.at(i), r.at(i+1)
	switch {
	case t.class == cTime && t.key == "noon":
		r.setClock(i, i, 720)
	case t.class == cTime && t.key == "midnight":
		r.setClock(i, i, 0)
	case next.class == cTime && next.key == "oclock", next.class == cTime && (next.key == "am" || next.key == "pm"):
		h, ok := r.hour(i)
		if !ok {
			return false
		}
		if next.key == "oclock" {
			r.setClock(i, i+1, h*60)
		} else {
			r.setClock(i, i, h*60)
		}
	default:
		return false
	}
	return true
}

// halfDay adds a following am or pm, also cut short: 6:40a, 2:15 p.
func (r *reader) halfDay(i int) {
	j := i + 1
	for r.at(j).class == cSkip && j < len(r.tokens) {
		j++
	}
	next := r.at(j)
	pm := next.class == cTime && next.key == "pm" || next.text == "p" && next.glued
	am := next.class == cTime && next.key == "am" || next.text == "a" && next.glued
	if !pm && !am {
		return
	}
	minutes, _ := strconv.Atoi(r.tokens[i].key)
	if pm && minutes < 720 {
		minutes += 720
	}
	if am && minutes >= 720 {
		minutes -= 720
	}
	r.setClock(i, j, minutes)
	r.tokens[i].fix = "" // settled: morning or afternoon was said
	r.tokens[i].span = -1
}
