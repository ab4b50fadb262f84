// Package bot is the conversation: what a message means in this chat, what is
// remembered, what is logged. It knows no transport and no database.
//
// Decide does no I/O: it takes a message, the chat's memory and the time that is
// in the message, and returns the outcome, the new memory and the effects. Bot
// loads the memory, calls Decide, and hands memory and effects to the Store in
// one transaction, keyed by chat and message, so a message that comes twice
// changes nothing and gets the same reply.
//
// Deliberately not here: SQL, Telegram, number formatting, arithmetic of the job,
// and any reading of the clock.
package bot

import (
	"time"

	"tankside/engine"
)

// Message is one thing a person said.
type Message struct {
	Chat   int64
	ID     int64 // unique in the chat; a repeat means the same message
	Person Person
	Text   string
	At     time.Time // when it was said, in the chat's zone
	Heard  bool      // by voice
	Unsure bool      // by voice, and what was heard may not be what was said
	Speaks bool      // answers can be spoken where it was said
	Edited bool      // replaces the earlier message with this ID
}

// Person is who said it.
type Person struct {
	ID   int64
	Name string
}

// Reply is what goes back.
type Reply struct {
	Outcome *engine.Outcome
	Lang    string
	Text    string // plain
	HTML    string
	Spoken  string // set where the words are not of an outcome; read it through Speech
	Buttons []Button
	Repeat  bool            // the message had been dealt with before
	Picture *engine.Picture `json:",omitempty"` // belongs beside the answer
}

// Button offers a next message with one press; Say is what pressing it says.
type Button struct {
	Label string
	Say   string
}
