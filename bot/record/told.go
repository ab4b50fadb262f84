package record

import (
	"maps"
	"slices"
	"strings"
	"sync"

	"tankside/bot"
	"tankside/engine"
	"tankside/phrases"
)

// Item is something that a record usually has to hold and that is not in a load.
type Item string

// The items, in the order in which they are shown and asked for.
const (
	WeatherBefore Item = "weather_before"
	Weather       Item = "weather"
	WeatherAfter  Item = "weather_after"
	Forecast      Item = "forecast"
	Soil          Item = "soil"
	Method        Item = "method"
	Source        Item = "source"
	Setback       Item = "setback"
	Lot           Item = "lot"      // of a crop
	Operator      Item = "operator" // nobody's name is in the log
	FieldName     Item = "field_name"
	FieldArea     Item = "field_area"
	Analysis      Item = "analysis"
)

// toldItems are those that are told by a note, each on a line of the record.
var toldItems = []Item{WeatherBefore, Weather, WeatherAfter, Forecast, Soil, Method, Source, Setback}

// Told is what the notes of a day say about it.
type Told struct {
	Items map[Item]string
	Lots  map[string]string // by crop; "" where a note names no crop
}

// labels are the words that a note starts with to tell an item, in both languages,
// longer ones first. They are matched without accents and capitals. Those that start
// many a note about something else ("ground speed", "tiempo de carga") tell only with
// a colon or a verb after them.
var labels = []struct {
	item   Item
	words  string
	strict bool
}{
	{WeatherBefore, "weather before", false}, {WeatherBefore, "weather the day before", false},
	{WeatherBefore, "clima antes", false}, {WeatherBefore, "tiempo antes", false},
	{WeatherAfter, "weather after", false}, {WeatherAfter, "weather the day after", false},
	{WeatherAfter, "clima despues", false}, {WeatherAfter, "tiempo despues", false},
	{Forecast, "forecast", false}, {Forecast, "pronostico", false},
	{Weather, "weather", false}, {Weather, "clima", false}, {Weather, "tiempo", true},
	{Soil, "soil", false}, {Soil, "ground", true}, {Soil, "suelo", false},
	{Method, "method", false}, {Method, "metodo", false},
	{Source, "manure source", false}, {Source, "manure", true}, {Source, "slurry", true}, {Source, "source", true},
	{Source, "estiercol", true}, {Source, "purin", true}, {Source, "origen", true},
	{Setback, "setback", false}, {Setback, "distancia", true}, {Setback, "retiro", true},
	{Lot, "seed lot", false}, {Lot, "lot", false}, {Lot, "lote", false},
}

// read takes what a note tells; several are set apart by semicolons. Whatever tells
// nothing of the kind stays a note. What is told last holds.
func (t *Told) read(note string) {
	for _, part := range strings.FieldsFunc(note, func(r rune) bool { return r == ';' || r == '\n' }) {
		item, rest, ok := labelled(part)
		switch {
		case !ok:
		case item == Lot:
			crop, lot := cropIn(rest)
			if t.Lots == nil {
				t.Lots = map[string]string{}
			}
			t.Lots[crop] = lot
		default:
			if t.Items == nil {
				t.Items = map[Item]string{}
			}
			t.Items[item] = rest
		}
	}
}

// labelled splits "soil: moist", "soil was moist" into its item and what is told.
func labelled(part string) (Item, string, bool) {
	part = strings.TrimSpace(part)
	bare := plain(part)
	for _, l := range labels {
		rest, ok := strings.CutPrefix(bare, l.words)
		if !ok || rest == "" || !strings.ContainsAny(rest[:1], " :=,-") {
			continue
		}
		plainly := strings.ContainsAny(rest[:1], ":=")
		told := []rune(strings.TrimLeft(string([]rune(part)[len(l.words):]), " :=,-"))
		for _, verb := range [...]string{"was ", "is ", "were ", "estaba ", "esta ", "era ", "es "} {
			if strings.HasPrefix(plain(string(told)), verb) {
				told, plainly = told[len(verb):], true
			}
		}
		if l.strict && !plainly {
			continue
		}
		text := strings.TrimSpace(string(told))
		return l.item, text, text != ""
	}
	return "", "", false
}

// plain takes capitals and accents off, letter by letter.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case 'á', 'Á':
			return 'a'
		case 'é', 'É':
			return 'e'
		case 'í', 'Í':
			return 'i'
		case 'ó', 'Ó':
			return 'o'
		case 'ú', 'Ú':
			return 'u'
		}
		if r < 0x80 {
			return rune(strings.ToLower(string(r))[0])
		}
		return r
	}, s)
}

// cropIn finds the crop that a lot is of: "annual ryegrass 17-204", "17-204 oats".
func cropIn(text string) (crop, lot string) {
	bare := plain(text)
	for _, name := range cropNames() {
		at := strings.Index(bare, name.word)
		if at < 0 {
			continue
		}
		runes := []rune(text)
		from := len([]rune(bare[:at]))
		lot = string(runes[:from]) + string(runes[from+len([]rune(name.word)):])
		return name.crop, strings.Trim(lot, " :=,-")
	}
	return "", text
}

type cropName struct{ word, crop string }

// cropNames are the crops as people write them, in every language, longer ones first:
// "annual ryegrass" before "rye".
var cropNames = sync.OnceValue(func() []cropName {
	var out []cropName
	for _, c := range engine.Crops() {
		out = append(out, cropName{plain(c.Name), c.Name})
		for _, lang := range phrases.Languages() {
			out = append(out, cropName{plain(phrases.CropWord(lang, c.Name)), c.Name})
		}
	}
	slices.SortStableFunc(out, func(a, b cropName) int { return len(b.word) - len(a.word) })
	return out
})

// lotOf is the seed lot of a crop, where it was told. A lot told without its crop is
// of the only crop of the day.
func (s *Sheet) lotOf(crop string) string {
	if lot, ok := s.Told.Lots[crop]; ok {
		return lot
	}
	if len(s.Sum.Seeds) == 1 {
		return s.Told.Lots[""]
	}
	return ""
}

// crops are those that went on this field on this day, by name.
func (s *Sheet) crops() []string { return slices.Sorted(maps.Keys(s.Sum.Seeds)) }

// noted are the notes of every load, by the message and number that made its rows.
type noted map[[2]int64][]string

// notesOf follows each load through the rows that took its place.
func notesOf(rows []bot.Row) noted {
	out := noted{}
	for i := range rows {
		r := &rows[i]
		var all []string
		if r.Replaces != 0 {
			all = slices.Clone(out[[2]int64{r.Replaces, int64(r.Seq)}])
		}
		if r.Note != "" && !slices.Contains(all, r.Note) {
			all = append(all, r.Note)
		}
		out[[2]int64{r.ID, int64(r.Seq)}] = all
	}
	return out
}

func (n noted) of(r *bot.Row) []string { return n[[2]int64{r.ID, int64(r.Seq)}] }

// Gap is something that is missing from the record of a field and a day.
type Gap struct {
	Day   string
	Field string
	Item  Item
	Of    string // the crop, for a lot
}

// asked says whether an item is missed when nobody told it. A forecast and setbacks
// are kept where they are told; not every place asks for them.
func asked(item Item) bool { return item != Forecast && item != Setback }

// gaps lists what a sheet lacks. A day on which no load stands lacks nothing.
func (s *Sheet) gaps() []Gap {
	if s.Sum.Loads == 0 {
		return nil
	}
	var out []Gap
	lacks := func(item Item, of string) {
		out = append(out, Gap{Day: s.Day, Field: s.Field.Name, Item: item, Of: of})
	}
	for _, item := range toldItems {
		if s.Told.Items[item] == "" && asked(item) {
			lacks(item, "")
		}
	}
	for _, crop := range s.crops() {
		if s.lotOf(crop) == "" {
			lacks(Lot, crop)
		}
	}
	if len(s.People) == 0 {
		lacks(Operator, "")
	}
	if s.Field.Name == "" {
		lacks(FieldName, "")
	}
	if s.Field.Area <= 0 {
		lacks(FieldArea, "")
	}
	if s.Nutrients == nil {
		lacks(Analysis, "")
	}
	return out
}

// Missing tells what the record lacks, one line for each field and day, to be asked
// for.
func (r *Record) Missing() []string {
	var out []string
	for i := 0; i < len(r.Gaps); {
		first := r.Gaps[i]
		var items []string
		for ; i < len(r.Gaps) && r.Gaps[i].Day == first.Day && r.Gaps[i].Field == first.Field; i++ {
			items = append(items, r.gapText(r.Gaps[i]))
		}
		out = append(out, r.words().missing+": "+first.Day+", "+r.words().fieldName(first.Field)+": "+strings.Join(items, "; "))
	}
	return out
}

// methods are the words that tell how slurry went on, as engine tells them apart.
var methods = []struct{ word, method string }{
	{"inject", engine.MethodInjected}, {"inyect", engine.MethodInjected}, {"knife", engine.MethodKnife}, {"cuchilla", engine.MethodKnife},
	{"slot", engine.MethodSlots}, {"aerat", engine.MethodSlots}, {"tine", engine.MethodSlots}, {"ranura", engine.MethodSlots}, {"aireador", engine.MethodSlots},
	{"surface", engine.MethodSurface}, {"on top", engine.MethodSurface}, {"broadcast", engine.MethodSurface}, {"superficie", engine.MethodSurface},
}

// method is how slurry went on, where the notes tell it plainly.
func (t *Told) method() string {
	told := plain(t.Items[Method])
	for _, m := range methods {
		if strings.Contains(told, m.word) {
			return m.method
		}
	}
	return ""
}
