package bot

import "tankside/engine"

// askHeard asks whether a voice note was heard right, and does nothing before. The
// question that the note may have answered waits behind.
func askHeard(msg Message, m Memory) Decision {
	behind := m.Pending
	if behind != nil && behind.Problem == engine.ConfirmHeard {
		behind = behind.Behind // the note was said again
	}
	m.Pending = &Pending{Problem: engine.ConfirmHeard, Text: msg.Text, Behind: behind, Asked: msg.Person.ID}
	o := &engine.Outcome{Status: engine.Asks, Problem: engine.ConfirmHeard, Words: []string{msg.Text}, Units: m.Units}
	return Decision{Outcome: o, Memory: m, Lang: orEnglish(m.Lang)}
}

// settled takes the answer to askHeard: yes stands for the note's own words. Any other
// message stands for itself, and no leaves the question for misheard to close.
func settled(msg Message, m Memory) (Message, Memory) {
	p := m.Pending
	switch req := read(msg, m); {
	case has(req, "yes"):
		msg.Text, m.Pending = p.Text, p.Behind
	case !has(req, "no") || len(req.Acts) > 1 || len(req.Facts)+len(req.Loose) > 0:
		m.Pending = p.Behind
	}
	return msg, m
}

// misheard drops what was heard; the question before it is open again.
func misheard(m Memory) Decision {
	m.Pending = m.Pending.Behind
	o := &engine.Outcome{Status: engine.Done, Act: engine.ActDropped, Units: m.Units}
	return Decision{Outcome: o, Memory: m, Lang: orEnglish(m.Lang)}
}
