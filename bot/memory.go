package bot

import (
	"time"

	"tankside/engine"
)

// Memory is what a chat knows. It is one value, saved whole; loads are in the log
// and reach Decide as Book.
type Memory struct {
	Lang     string            `json:"lang,omitempty"`     // "en", "es"; empty until a message settles it
	LangSet  bool              `json:"lang_set,omitempty"` // chosen by the person, not picked from a message
	Units    engine.Units      `json:"units"`
	UnitsSet bool              `json:"units_set,omitempty"` // said or set, not the default
	Facts    []Remembered      `json:"facts,omitempty"`     // latest first within a slot there is only one
	Pending  *Pending          `json:"pending,omitempty"`   // the question that waits for an answer
	Aside    *Pending          `json:"aside,omitempty"`     // which crop a rate is of, asked and not answered yet
	Last     *Last             `json:"last,omitempty"`      // the last answered question, for follow-ups
	Runs     []engine.Run      `json:"runs,omitempty"`      // gate calibration
	Outlet   string            `json:"outlet,omitempty"`    // outlet set-up the runs belong to
	Fields   []Field           `json:"fields,omitempty"`
	Field    int64             `json:"field,omitempty"`  // the field in hand; 0: none
	Scheme   string            `json:"scheme,omitempty"` // N availability scheme chosen
	Limits   []engine.Limit    `json:"limits,omitempty"`
	Frost    string            `json:"frost,omitempty"`   // first frost as month and day, 10-05
	Place    string            `json:"place,omitempty"`   // as engine.Window has it
	Warned   string            `json:"warned,omitempty"`  // the day (2006-01-02) that the day's cautions were given
	Soaked   []string          `json:"soaked,omitempty"`  // crops whose handling was told on the day Warned
	Zone     string            `json:"zone,omitempty"`    // IANA time zone
	Next     int64             `json:"next,omitempty"`    // next field number
	Started  time.Time         `json:"started,omitzero"`  // when the day's work started, as it was told
	Speak    bool              `json:"speak,omitempty"`   // answers are spoken as well
	UnitOf   map[string]string `json:"unit_of,omitempty"` // what "ton", "m" mean in this chat
	Before   *Before           `json:"before,omitempty"`  // the load before it was put right, for "undo"
	Own      []Personal        `json:"own,omitempty"`     // values of single people, in a group
}

// Before is a load as it was before a message put it right.
type Before struct {
	By   int64 `json:"by"` // the message
	Load Load  `json:"load"`
}

// Remembered is a fact with when and by whom it was said.
type Remembered struct {
	Fact engine.Fact `json:"fact"`
	When time.Time   `json:"when"`
	Who  string      `json:"who,omitempty"`
}

// Field is a piece of ground with its own counts.
type Field struct {
	ID     int64       `json:"id"`
	Name   string      `json:"name"`
	Area   float64     `json:"area,omitempty"`  // acres; 0: not said
	Ground engine.Fact `json:"ground,omitzero"` // the area as it was said
	Opened time.Time   `json:"opened"`
	Closed time.Time   `json:"closed,omitzero"`
}

// Pending is a question asked back, with everything needed to go on once it is
// answered.
type Pending struct {
	Problem string          `json:"problem,omitempty"` // as in Outcome.Problem; empty: a missing quantity
	Slot    engine.Slot     `json:"slot,omitempty"`
	Of      string          `json:"of,omitempty"`
	Choices []engine.Choice `json:"choices,omitempty"`
	Topics  []engine.Topic  `json:"topics,omitempty"` // what was being answered
	Facts   engine.Facts    `json:"facts,omitempty"`  // what had been said
	Act     string          `json:"act,omitempty"`    // what was about to be done
	Load    *Load           `json:"load,omitempty"`   // the load about to be logged
	Focus   []engine.Slot   `json:"focus,omitempty"`  // results asked for by name
	Crops   []string        `json:"crops,omitempty"`  // crops named without a rate
	Timing  bool            `json:"timing,omitempty"` // the time to seed was asked for
	Words   []string        `json:"words,omitempty"`  // quoted in the question
	Text    string          `json:"text,omitempty"`   // the message that led to it
	Asked   int64           `json:"asked,omitempty"`  // whose it is to answer, in a group
	Left    int             `json:"left,omitempty"`   // for how many messages more it is kept aside
	Again   bool            `json:"again,omitempty"`  // it was named once more behind another answer
	Behind  *Pending        `json:"behind,omitempty"` // the question that waits behind this one
}

// Last is the question a follow-up leans on.
type Last struct {
	Topics []engine.Topic `json:"topics,omitempty"`
	Facts  engine.Facts   `json:"facts,omitempty"`
	Crops  []string       `json:"crops,omitempty"`  // named without an amount
	Slots  []engine.Slot  `json:"slots,omitempty"`  // slots said lately, newest first
	Timing bool           `json:"timing,omitempty"` // it was about the time to seed
	Tried  engine.Facts   `json:"tried,omitempty"`  // what the last what-if put in their place
	Method string         `json:"method,omitempty"` // how the slurry goes on
	Worked float64        `json:"worked,omitempty"` // hours until it is worked in
	Latest int            `json:"latest,omitempty"` // how many of them the last message said
	All    bool           `json:"all,omitempty"`    // it was about all open fields
	Focus  []engine.Slot  `json:"focus,omitempty"`  // what it asked for by name
}

// Load is one logged load (or part of one, or several alike).
type Load struct {
	ID        int64     `json:"id"`   // the message that logged it
	Part      int       `json:"part"` // 0, 1 … when one message logs several
	Replaces  int64     `json:"replaces,omitempty"`
	Field     int64     `json:"field,omitempty"`
	FieldName string    `json:"field_name,omitempty"`
	Seq       int       `json:"seq"`      // number within the field
	Fraction  float64   `json:"fraction"` // of a full load: 1, 0.5 …
	Volume    float64   `json:"volume"`   // gallons
	Area      float64   `json:"area"`     // acres
	Rate      float64   `json:"rate"`     // gallons an acre
	Seeds     []Seed    `json:"seeds,omitempty"`
	When      time.Time `json:"when"` // when it was spread
	Said      time.Time `json:"said"` // when it was logged
	Who       Person    `json:"who"`
	Note      string    `json:"note,omitempty"`
}

// Seed is how much of a crop went into a load.
type Seed struct {
	Crop   string  `json:"crop"`
	Rate   float64 `json:"rate"`   // pounds an acre
	Weight float64 `json:"weight"` // pounds
}
