package bot

import (
	"context"
	"time"
)

// Book is what Decide may know of the log: sums, and the last loads. The store
// answers from indexes or roll-ups; it never scans a chat's whole history.
type Book struct {
	At      int64  // the field that Field is of: the one in hand when the book was opened
	Field   Totals // the field in hand
	Today   Totals
	Season  Totals           // since 1 January of the message's year
	Recent  []Load           // the newest loads that stand, newest first, at most a dozen
	ByField map[int64]Totals // every open field, for "what's left" and lists
}

// Totals is a sum over loads that stand.
type Totals struct {
	Loads       float64 // parts count as parts
	Count       int     // rows
	Volume      float64 // gallons
	Area        float64 // acres
	Seeds       []Seed  // Weight summed by crop
	First, Last time.Time
}

// Effect is one change to the log. Memory is saved beside the effects.
type Effect struct {
	Add    *Load  // a load to add
	Cancel *Load  // a load to cancel: its ID and Part
	Why    string // "undo", "corrected", "edited"
}

// Store keeps memories and the log. Every method is keyed by chat; none can reach
// another chat's rows.
type Store interface {
	// Load returns the chat's memory and book as of at, for season and day sums.
	// A new chat has a zero Memory. seen is the reply stored for message id when
	// that message has been dealt with before, else nil.
	Load(ctx context.Context, chat, id int64, at time.Time) (Memory, Book, *Reply, error)
	// Apply saves memory and effects and the reply of message id in one
	// transaction. A message that was applied before changes nothing.
	Apply(ctx context.Context, chat, id int64, m Memory, effects []Effect, r *Reply) error
	// Loads calls f with each row of the chat's log, cancelled ones too, oldest
	// first, until f returns an error.
	Loads(ctx context.Context, chat int64, f func(Row) error) error
	// Past returns the loads that a recall is about and that stand, oldest first.
	Past(ctx context.Context, chat int64, r Recall) ([]Load, error)
	Close() error
}

// Row is a logged load as it stands in the store.
type Row struct {
	Load
	Cancelled time.Time // zero: it stands
	Why       string
}
