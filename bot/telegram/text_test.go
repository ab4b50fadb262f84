package telegram

import (
	"html"
	"strings"
	"testing"
)

func TestSplit(t *testing.T) {
	line := "Load 7 · 0.43 acres · “north & south” <40>"
	long := "<b>First & <i>line</b>"
	for name, text := range map[string]string{
		"lines":         "<b>Today</b>\n" + html.EscapeString(strings.Repeat(line+"\n", 400)),
		"bold over all": "<b>" + html.EscapeString(strings.Repeat(line+"\n", 400)) + "</b>\nend",
		"one line":      html.EscapeString(strings.Repeat("seed < & > \" 🚜", 2000)),
		"no blanks":     strings.Repeat("🚜", 5000),
		"short":         html.EscapeString(long),
	} {
		parts := split(text)
		joined := ""
		for i, p := range parts {
			if units(p) > longestText {
				t.Errorf("%s: part %d has %d units", name, i, units(p))
			}
			if strings.Count(p, "<b>") != strings.Count(p, "</b>") || strings.Index(p, "</b>") < strings.Index(p, "<b>") {
				t.Errorf("%s: part %d is not well formed", name, i)
			}
			joined += plainOf(p)
		}
		squeeze := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if squeeze(joined) != squeeze(plainOf(text)) {
			t.Errorf("%s: text was lost", name)
		}
	}
}

func TestBytesOf(t *testing.T) {
	for _, c := range []struct {
		text           string
		offset, length int
		want           string
	}{{"🚜 Ann hi", 3, 3, "Ann"}, {"Ann", 0, 3, "Ann"}, {"ñandú x", 0, 5, "ñandú"}} {
		from, to, ok := bytesOf(c.text, c.offset, c.length)
		if !ok || c.text[from:to] != c.want {
			t.Errorf("%q: %d to %d, %v", c.text, from, to, ok)
		}
	}
	if _, _, ok := bytesOf("short", 3, 9); ok {
		t.Error("an entity beyond the text was taken")
	}
}

func TestCutCommand(t *testing.T) {
	for text, want := range map[string][2]string{"/log": {"log", ""}, " /Log@Some_Bot  2 loads ": {"log@some_bot", "2 loads"}, "/forget\nnorth forty": {"forget", "north forty"}} {
		command, rest, ok := cutCommand(text)
		if !ok || command != want[0] || rest != want[1] {
			t.Errorf("%q: %q %q %v", text, command, rest, ok)
		}
	}
	for _, text := range []string{"", "/", "log", "/½ tank", "a /log"} {
		if _, _, ok := cutCommand(text); ok {
			t.Errorf("%q is no command", text)
		}
	}
}
