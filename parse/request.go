package parse

import (
	"time"

	"tankside/engine"
	"tankside/engine/unit"
)

// Context is what the reading of a message may lean on.
type Context struct {
	Lang   string            // the chat's language, for messages that do not tell
	Units  engine.Units      // what a number without a unit is in
	Fields []string          // the chat's own field names, matched before any word
	UnitOf map[string]string // what a bare "ton" or "m" means in this chat
	Jars   bool              // the chat spoke of jars last: a list of bare numbers is of counts
}

// Request is what a message says. Every number, unit and crop in it is in Facts,
// Loose, When, Unread or Withdrawn.
type Request struct {
	Lang       string
	Facts      engine.Facts
	Asks       []Ask
	Acts       []Act
	Loose      []Loose   // bare numbers that only the chat can place: "8000", "make it 8000"
	Crops      []Crop    // crops named without a rate
	Mentions   []Mention // quantities and units named without a number
	Left       bool      // a volume that is left in the tank
	Refill     bool      // what is left is filled up again
	Only       bool      // "only vetch at 20"
	PartLoad   bool      // "half load": a part of a load, and no tank
	PartOfLoad bool      // "two thirds of a load in the waterway"; also where PartLoad is
	Unread     []engine.Span

	Withdrawn []engine.Span
	Dropped   []string // crops that are taken back: "no ryegrass"
	DroppedAt [][2]int // where each of them stands
	Edits     bool     // it changes the mix that the chat has: "add 3 lb of turnip", "bump oats to 50"
	Fixes     []engine.Fix
	Notes     []engine.Note
	Problem   *engine.Problem
	Choices   []engine.Choice

	Convert   *unit.Unit // the unit to convert to
	WhatIf    bool       // "and at 8000?": answered, not remembered
	Foreign   bool       // of somebody else's rig, or only judged, "is 9000 too much": nothing of it is kept
	Correct   bool       // "make it 8000": corrects what the chat knows
	Same      bool       // "same with the 4000 tank"
	Date      *Date      // a day of the year
	FrostIn   int        // days until the first frost, where it was said so
	Frost     bool       // Date is the first frost
	Scheme    string     // a table of nitrogen availability that was named
	Place     string     // a place that seeding times were published for
	Timing    bool       // the time to seed is asked for
	Marked    bool       // it ends in a question mark
	Question  bool       // it ends in a question mark or opens with a question word
	YesNo     bool       // it opens with "is", "are"
	Either    bool       // two crops were named and none chosen: OneOf
	OneOf     [2]string
	Each      bool   // "12 lb each"
	Field     string // a field named in it
	FieldSaid string // a field that a load is logged in, which this chat has not
	FieldAt   [2]int
	PerLoad   bool    // "a load" was said
	All       bool    // all fields are meant: "total", "both", "entre los dos"
	Start     *Start  // when work starts or started, or the time it is by now
	DayLong   bool    // the time that was said is that of a working day
	Until     int     // the hour when the day ends, minutes past midnight; 0: not said
	Finish    bool    // the time of day that the field is finished is asked for
	Next      bool    // it speaks of what comes next: "the next one is 40 acres"
	Factor    float64 // "double the rate": of which quantity Mentions tells
	Method    string  // how the slurry goes on: injected, surface …
	Shut      bool    // the gate is shut: all of the pump's flow returns
	Soil      string  // texture named
	Moisture  string  // how wet the soil is: one of engine.Moistures
	WorkedIn  float64 // hours until it is worked in, said in words: "the same day"
	Manure    string  // kind of manure, for typical values
	Enough    string  // it asks whether the answer before it will do: EnoughNeed, EnoughLimit
	Form      string  // how P and K are said: FormElement, FormOxide
	FormWord  bool    // by a word that holds for both: "elemental"
	Units     *engine.Units
	// DecimalMark is ',' or '.' where the digits show which one the writer puts
	// before decimals, else 0.
	DecimalMark byte
	When        *When
	Info        []string // fixed texts that it touches
	Scope       string   // today, field, season
	Kind        string   // a crop named only by what tells it from its kin: "white"
	Span        string   // a stretch of the past: engine.PastSpan's names
	Recall      bool     // it asks about loads of the past: of Span, or of When
	Ordinal     int      // load 4: which one
	Reached     bool     // Ordinal is how many loads there are by now: "that's three"
	Told        []Told   // loads told of in several clauses
	AllDay      bool     // they are told of as the day\'s: some may be in the log already
	Telling     bool     // the message tells of loads and does nothing else
	Heard       bool
	Off         bool   // nothing of the job in it
	named       uint64 // a bit for each quantity whose own word was said
}

// Named says whether a quantity's own word was said: "tank", "pump".
func (r *Request) Named(s engine.Slot) bool { return r.named&(1<<(s%64)) != 0 }

// Ask is one thing that was asked.
type Ask struct {
	Topic engine.Topic
	Slot  engine.Slot // the quantity asked for, when one was named
	Of    string
	At    [2]int

	Timing bool // of a crop: the time to seed it
	GoesOn bool // of a rate: what goes on, without a word for gallons: "how much per acre"
}

// Act is one thing to be done. Text is the name or note that came with it, as
// written.
type Act struct {
	Name string
	Text string
	Not  bool // "don't log that"
	At   [2]int
}

// Loose is a number that nothing in the message places.
type Loose struct {
	Min, Max float64
	Unit     *unit.Unit // with a unit but without a role; nil: bare
	At       [2]int
	Text     string
	About    bool
	Part     bool           // a bare fraction: half, two thirds
	Behind   string         // "at" when that stands right before it
	Pace     bool           // it is what somebody goes by now: "slowed to 2", "im doing 4"
	Instead  *engine.Choice // what it was said not to be: "it's 12, not 15"
}

// Crop is a crop named without an amount.
type Crop struct {
	Name string
	At   [2]int
}

// Mention is a quantity or a unit named without a number: "the tank", "gallons an
// acre". It is how a question asked back is answered in a word.
type Mention struct {
	Slot engine.Slot
	Unit *unit.Unit
}

// When is the time that a load was spread at.
type When struct {
	Clock int           // minutes past midnight, -1 when not said
	Exact bool          // morning or afternoon was said
	Ago   time.Duration // before the message
	Days  int           // days before the message's day
	At    [2]int        // where the time of day stands in the message
}
