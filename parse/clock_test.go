package parse

import (
	"testing"
	"time"
)

// Times of day, the minutes past midnight of each, and whether the half of the day
// was said.
func TestClocks(t *testing.T) {
	for _, c := range []struct {
		text    string
		minutes int
		exact   bool
	}{
		{"log load at 2:15", 135, false}, {"log load at 2:15 pm", 855, true}, {"log load at 2:15pm", 855, true}, {"log load at 2:15 am", 135, true},
		{"log load at 12:05 am", 5, true}, {"log load at 12:30 pm", 750, true}, {"log load at 14:05", 845, true}, {"log load at 2 pm", 840, true},
		{"log load at 6:40a", 400, true}, {"log load at 2:15p", 855, true}, {"log load at two o'clock", 120, false}, {"log load at 2 o'clock", 120, false},
		{"log load at quarter past two", 135, false}, {"log load at half past six", 390, false}, {"log load at twenty past four", 260, false},
		{"log load at quarter to three", 165, false}, {"log load at quarter of three", 165, false}, {"log load at ten past four", 250, false},
		{"log load at half two", 150, false}, {"log load at noon", 720, false}, {"log load at 2:15 in the afternoon", 855, true},
		{"log load at seven thirty", 450, false}, {"load done at two forty five", 165, false}, {"log load at seven thirty am", 450, true}, {"log load at 7 in the morning", 420, true},
		{"anota carga a las 2:15", 135, false}, {"anota carga a las dos", 120, false}, {"anota carga a las dos y cuarto", 135, false},
		{"anota carga a las tres menos cuarto", 165, false}, {"anota carga a las tres menos diez", 170, false}, {"anota carga a la una y media", 90, false},
		{"anota carga a las dos y veinte", 140, false}, {"anota carga a las dos de la tarde", 840, true}, {"anota carga a mediodia", 720, false},
	} {
		req := Parse(c.text, in(""))
		if req.When == nil || req.When.Clock != c.minutes || req.When.Exact != c.exact {
			t.Errorf("%q: got %+v, want minute %d, exact %v", c.text, req.When, c.minutes, c.exact)
			continue
		}
		if len(req.Loose)+len(req.Facts)+len(req.Unread) > 0 {
			t.Errorf("%q: besides the time %v %v %v", c.text, req.Facts, req.Loose, req.Unread)
		}
	}
}

// Numbers that only look like times.
func TestNoClocks(t *testing.T) {
	for _, text := range []string{"two 3000 gallon loads", "half a tank", "quarter tank left", "seed to 2 pounds", "3 to 4 mph", "ten to twelve pounds ryegrass", "2:99",
		"a las 3000 galones", "media carga", "quarter of three loads", "log load at seven fifty an acre", "at seven thirty"} {
		if req := Parse(text, in("")); req.When != nil {
			t.Errorf("%q: read as the time %+v", text, *req.When)
		}
	}
}

func TestTimeAgo(t *testing.T) {
	for text, want := range map[string]When{
		"log load ten minutes ago":          {Clock: -1, Ago: 10 * time.Minute},
		"log load 10 min ago":               {Clock: -1, Ago: 10 * time.Minute},
		"log load an hour ago":              {Clock: -1, Ago: time.Hour},
		"anota carga hace una hora":         {Clock: -1, Ago: time.Hour},
		"log load half an hour ago":         {Clock: -1, Ago: 30 * time.Minute},
		"log load yesterday":                {Clock: -1, Days: 1},
		"log load yesterday at 4:10 pm":     {Clock: 970, Exact: true, Days: 1},
		"anota carga hace veinte minutos":   {Clock: -1, Ago: 20 * time.Minute},
		"anota carga ayer":                  {Clock: -1, Days: 1},
		"anota una carga hace media hora":   {Clock: -1, Ago: 30 * time.Minute},
		"log load two hours ago, 1800 gals": {Clock: -1, Ago: 2 * time.Hour},
	} {
		req := Parse(text, in(""))
		if req.When != nil {
			want.At = req.When.At
		}
		if req.When == nil || *req.When != want {
			t.Errorf("%q: got %+v, want %+v", text, req.When, want)
		}
	}
}
