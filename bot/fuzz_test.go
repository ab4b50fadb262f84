package bot

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"tankside/engine"
)

var nastyMessages = []string{"", " ", "\x00\x1b[31m", "\xff\xfe\xc3(", "🚜🚜🚜", "<script>alert(1)</script> 3000", "=cmd|' /C calc'!A0", "{{.}} 7000 {{template}}", "%s %d %n 3000", "../../x 12",
	"1e308 gal tank, 1e308 per acre", "0 gallon tank, 0 per acre", "-3000 gallon tank, 7000 per acre", "3000 gallon tank, 0 per acre", "width 0, 0 mph, 0 gpm what rate",
	"999999999999 acres 3000 tank 7000 per acre how many loads", "0.0000001 acres", "tank 3000 tank 4000", "7000 or 8000 or 9000", "purity 0 germ 0 ryegrass 12 lb pls", "jars 0 0 0 0",
	"gate 4 gives 0 gpm what gate for 600", "gross 100 lb tare 200 lb", "rye 0 lb clover 0 lb mix", "convert 0 acres to gallons", "log 0 loads", "log 1e9 loads", "load at 25:99", "undo undo undo",
	"new field =1+1", "note \u202e reversed", "a\nb\r\nc 3000\n7000"}

// Whatever is asked, the reply is text, the JSON is JSON, and no value is anything but
// a number.
func FuzzAsk(f *testing.F) {
	for _, s := range nastyMessages {
		f.Add(s)
	}
	for _, lines := range corpusLines(f) {
		for i := 0; i < len(lines); i += 11 {
			f.Add(lines[i].text)
		}
	}
	f.Fuzz(func(t *testing.T, text string) { checkReply(t, text, askText(text)) })
}

func checkReply(t testing.TB, text string, r *Reply) {
	t.Helper()
	for _, s := range [...]string{r.Text, r.Speech()} {
		if !utf8.ValidString(s) || strings.TrimSpace(s) == "" {
			t.Fatalf("%q: reply %q", text, s)
		}
		for _, bad := range [...]string{"NaN", "+Inf", "-Inf", "%!", "<no value>", "<nil>"} {
			if strings.Contains(s, bad) && !strings.Contains(text, bad) {
				t.Fatalf("%q: reply %q", text, s)
			}
		}
	}
	line, err := AppendJSON(nil, text, r)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	var back struct{ Status, Language string }
	if err := json.Unmarshal(line, &back); err != nil || strings.ContainsAny(string(line), "\n\r") {
		t.Fatalf("%q: %v in %q", text, err, line)
	}
	o := r.Outcome
	for _, v := range o.Results {
		if math.IsNaN(v.Min) || math.IsInf(v.Min, 0) || math.IsNaN(v.Max) || math.IsInf(v.Max, 0) || v.Min > v.Max {
			t.Fatalf("%q: %s is %g..%g", text, v.Slot, v.Min, v.Max)
		}
	}
	if o.Status == engine.Asks && len(o.Missing) == 0 && len(o.Conflict) == 0 && o.Problem == "" {
		t.Fatalf("%q: asks for nothing", text)
	}
	if o.Status == engine.Answered && o.Problem != "" {
		t.Fatalf("%q: answered with problem %s", text, o.Problem)
	}
	for _, f := range o.Given {
		if f.Origin == engine.Said && (f.At[0] < 0 || f.At[1] > len(text) || f.At[0] > f.At[1]) {
			t.Fatalf("%q: %s at %v", text, f.Slot, f.At)
		}
	}
}

// Two messages in one chat: the second is read in the light of the first, whatever it is.
func FuzzChat(f *testing.F) {
	f.Add("3000 gallon tank, 7000 per acre, ryegrass 12 lb", "and at 8000?")
	f.Add("3000 gallon tank", "7000")
	f.Add("7000 gallons", "the tank")
	f.Add("ryegrass 12 lb, how much per load", "never mind")
	f.Add("new field north 40, 40 acres", "log 2 loads")
	f.Add("gate 4 gives 620", "gate for 600?")
	f.Add("hablo español", "tanque de 3.000 galones")
	f.Fuzz(func(t *testing.T, a, b string) {
		m := Memory{}
		for i, text := range [...]string{a, b, a} {
			d := Decide(Message{Chat: 1, ID: int64(i + 1), Text: text, At: corpusNow}, m, Book{})
			checkReply(t, text, Say(d))
			if _, err := json.Marshal(d.Memory); err != nil {
				t.Fatalf("%q then %q: the memory cannot be kept: %v", a, b, err)
			}
			m = d.Memory
		}
	})
}

func TestNastyMessages(t *testing.T) {
	for _, s := range nastyMessages {
		checkReply(t, s, askText(s))
	}
	for _, lines := range corpusLines(t) {
		for _, l := range lines {
			checkReply(t, l.text, askText(l.text))
		}
	}
}
