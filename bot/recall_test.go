package bot

import (
	"testing"

	"tankside/engine"
)

// The quantities of the corpus with their meaning: value, unit and what it is of. The
// bar is 99 of 100, both of those that were said and of those that were read.
func TestRecallAndPrecision(t *testing.T) {
	for lang, lines := range corpusLines(t) {
		wanted, found, read := 0, 0, 0
		for _, l := range lines {
			var said engine.Facts
			for _, f := range askText(l.text).Outcome.Given {
				if f.Origin == engine.Said && f.Slot != engine.CropSaid {
					said = append(said, f)
				}
			}
			read += len(said)
			for _, f := range l.want.facts {
				if f.free {
					continue
				}
				wanted++
				if i := findFact(said, f); i >= 0 {
					found++
					said = append(said[:i:i], said[i+1:]...)
				}
			}
		}
		recall, precision := float64(found)/float64(wanted), float64(found)/float64(read)
		t.Logf("%s: %d quantities in %d messages: recall %.2f%%, precision %.2f%%", lang, wanted, len(lines), 100*recall, 100*precision)
		if recall < 0.99 || precision < 0.99 {
			t.Errorf("%s: recall %.4f, precision %.4f", lang, recall, precision)
		}
	}
}
