package engine

import "tankside/engine/unit"

// Status is how a message came out, in the contract's words.
type Status string

// The statuses of the answer contract.
const (
	Answered      Status = "answered"
	Asks          Status = "asks"
	NotUnderstood Status = "not_understood"
	Done          Status = "done"
	Refused       Status = "refused"
)

// Topic is what a message was about, in the contract's words.
type Topic string

// The topics of the answer contract.
const (
	NoTopic          Topic = ""
	TopicLoad        Topic = "load"
	TopicPartLoad    Topic = "part_load"
	TopicSeedForArea Topic = "seed_for_area"
	TopicRate        Topic = "rate"
	TopicFlow        Topic = "flow"
	TopicSpeed       Topic = "speed"
	TopicAgitation   Topic = "agitation"
	TopicField       Topic = "field"
	TopicCycle       Topic = "cycle"
	TopicSoak        Topic = "soak"
	TopicSeedLot     Topic = "seed_lot"
	TopicMix         Topic = "mix"
	TopicNutrients   Topic = "nutrients"
	TopicNeed        Topic = "need"
	TopicDepth       Topic = "depth"
	TopicGate        Topic = "gate"
	TopicWeigh       Topic = "weigh"
	TopicSamples     Topic = "samples"
	TopicConvert     Topic = "convert"
	TopicCost        Topic = "cost"
	TopicLog         Topic = "log"
	TopicSetup       Topic = "setup"
	TopicCrop        Topic = "crop"
	TopicSafety      Topic = "safety"
	TopicHelp        Topic = "help"
)

// Value is one result, in base units of its slot; Min and Max differ only when
// a range went in. Limit marks a bound rather than an answer. Unit overrides the
// unit it is answered in (conversions); nil leaves that to the chat's Units.
type Value struct {
	Slot     Slot
	Of       string
	Min, Max float64
	Limit    bool
	Unit     *unit.Unit
	By       *Formula
}

// Formula says how a result came about, for "how?" and "says who?". Expr is
// written in slot names, numbers and + − × ÷ ( ) =, for example
// "load_volume ÷ application_rate"; wording puts the values in.
type Formula struct {
	Expr   string
	Source string // key in tables/sources.csv
}

// Level is how loud a note is.
type Level string

// The levels of a note.
const (
	Advice  Level = "advice"
	Caution Level = "caution"
	Danger  Level = "danger"
)

// Note is something worth knowing with an answer: a caution, advice, or a
// remark on how a value was read. ID is the contract's caution id and the key
// of its wording. Of, Slot and Value fill the wording in.
type Note struct {
	ID     string
	Level  Level
	Slot   Slot
	Of     string
	Value  float64    // in base units of Slot
	Limit  float64    // what Value was held against, in base units of Slot
	Rest   float64    // how far apart the two are, where that is told
	Unit   *unit.Unit // unit to show Value and Limit in; nil: the chat's
	Source string     // key in tables/sources.csv, when the note states a published figure
}

// Span is a piece of the message.
type Span struct {
	Text string
	At   [2]int
}

// Fix is a spelling that was put right.
type Fix struct {
	Said, Read string
	At         [2]int
}

// Choice is one way out of an ambiguity: what the value would be.
type Choice struct {
	Slot     Slot
	Of       string
	Unit     *unit.Unit
	Min, Max float64 // in Unit
	Word     string  // for choices that are not values: a crop, "yes", a field
}

// Outcome is everything that a message came to. It is plain data: the contract's
// JSON, the reply, the spoken reply and the effects are all made from it.
type Outcome struct {
	Heard     string // the words of a voice note, to be said back
	Status    Status
	Topics    []Topic // what was asked, in order; the first is the contract's topic
	Given     Facts
	Results   []Value
	Missing   []Slot
	MissingOf []string // parallel to Missing: of which crop or part
	Conflict  []Slot
	Unread    []Span
	Withdrawn []Span
	Fixes     []Fix
	Notes     []Note

	Problem   string   // key of the refusal's or question's wording; see problem.go
	Words     []string // words to quote in it
	Choices   []Choice // what a question offers
	Subject   Slot     // the quantity that the problem is about
	SubjectOf string   // of which crop or part
	Act       string   // key of what was done: "remembered", "logged", "undone" …
	Show      bool     // "how?" asked: steps and sources are to be shown
	Source    bool     // "says who?" asked
	Log       *Summary // what the log says, for answers about it
	Runs      []Run    // gate runs to show
	Crops     []string // crops the answer tells about
	Timings   []Timing // when those are best seeded, where that was asked
	Info      []string // keys of fixed texts to show (safety topics, help)
	Units     Units
	Focus     []Slot // results asked for by name; they are said first

	Started    string // the time of day that work starts or counts from, as 15:04; empty: not said
	Finish     string // the time of day that it will be done, as 15:04; empty: not asked
	FinishDays int    // how many days from now that is
}

// Summary is the log as an answer needs it.
type Summary struct {
	Scope     string // "today", "field", "season", "all"
	Field     string
	FieldArea float64 // acres; 0 when unknown
	Who       string
	Seq       int    // number of the load just logged, of several the last
	From      int    // of several the first; 0: it is one
	At        string // clock time of the load just logged, as text
	Lines     []LogLine
	Parts     []Summary // of loads logged in several clauses or fields: Field, Seq, From, At and Lines
}

// LogLine is one load as it is read back.
type LogLine struct {
	Seq       int
	At, Who   string
	Field     string
	Volume    float64 // gallons
	Area      float64 // acres
	Fraction  float64 // of a full load; in a list of fields the loads so far
	Total     float64 // acres of the whole field, in a list of fields
	Left      float64 // loads to go in it, in a list of fields; 0 when not known
	Note      string
	Cancelled bool
}
