package phrases

import (
	"strings"
	"testing"

	"tankside/engine"
)

// No question has a hole where its subject should be, even where an outcome carries nothing
// but the problem's code.
func TestNoQuestionWithoutItsSubject(t *testing.T) {
	hollow := []engine.Outcome{{}, {Topics: []engine.Topic{engine.TopicNutrients}}, {Words: []string{"8"}}, {Given: engine.Facts{tank, rate}}}
	for _, lang := range Languages() {
		for _, code := range engine.Problems {
			for _, o := range hollow {
				o.Problem, o.Status = code, engine.Asks
				for _, text := range []string{Text(lang, &o), Spoken(lang, &o)} {
					first, _, _ := strings.Cut(text, "\n")
					if first != strings.TrimSpace(first) || first == "" || strings.HasPrefix(first, ":") || strings.HasPrefix(first, "?") {
						t.Errorf("%s %s: %q", lang, code, first)
					}
					if len(o.Words) > 0 && (strings.Contains(first, "  ") || strings.Contains(first, "“”")) {
						t.Errorf("%s %s: a hole in %q", lang, code, first)
					}
				}
			}
		}
	}
}
