package bot

import (
	"context"
	"errors"
	"time"
)

// ErrNotNow is in errors of a database that is away, busy or full: the same thing may
// well succeed later, and nothing was wrong with what was to be done.
var ErrNotNow = errors.New("the database cannot do this now")

// Desk keeps what a messenger must not lose, in the same database as the log: what
// came in and was not yet dealt with, what is to go out, buttons, reminders, and
// who may use the bot.
type Desk interface {
	// Do runs f in one transaction; an error from f takes everything back.
	Do(ctx context.Context, f func(Tx) error) error
}

// Leads is a Desk that several programs may share.
type Leads interface {
	// Lead runs f while this program is the one, of all on this database, that has the
	// role; it returns when ctx ends. The context of f ends when the role is lost, and
	// nobody else takes it over before f has returned. wake is called when another
	// program has put something into the outbox; it may be nil.
	Lead(ctx context.Context, role string, wake func(), f func(ctx context.Context))
}

// Tx is one transaction over everything that a message can touch. A message's
// effects, its reply on the way out and the mark that it has been dealt with are
// written together or not at all.
type Tx interface {
	Load(chat, id int64, at time.Time) (Memory, Book, *Reply, error) // as Store.Load
	Apply(chat, id int64, m Memory, effects []Effect, r *Reply) error
	Logged(chat, id int64) ([]Logged, error)   // what stands of one message
	Past(chat int64, r Recall) ([]Load, error) // as Store.Past

	Inbox
	Outbox
	Buttons
	Door
	Clock
}

// Logged is a load that stands of what a message logged.
type Logged struct {
	Load       // as it stands: a later message may have put it right or noted it
	Was  *Load // that the message put right or noted, under a part number that is free; nil: none
}

// Inbox holds what came in, as it came, from its arrival until it is dealt with.
type Inbox interface {
	Receive(in Incoming) (fresh bool, err error)
	Waiting(after int64, limit int) ([]Incoming, error) // by number
	Finish(number int64, trouble string) error          // dealt with; trouble: why it could not be
	Offset() (int64, error)                             // the number to ask for next; 0: none yet
	SetOffset(next int64) error
}

// Incoming is one thing that came in. Numbers are given by the sender and grow.
type Incoming struct {
	Number int64
	Chat   int64
	Raw    []byte
}

// Outbox holds what is to go out until it is sent.
type Outbox interface {
	Send(o Outgoing) (id int64, err error)
	Unsent(term int64, limit int) ([]Outgoing, error) // by ID; what this term has not been given yet
	Sent(id int64, message int64) error               // message: the number it got
	Retry(id int64, tries int, due time.Time) error
	GiveUp(id int64, why string) error
	SentAs(id int64) (message int64, found bool, err error)

	Turn(chat, message int64) (*Turn, error) // nil: never dealt with
	PutTurn(chat int64, t Turn) error        // also forgets Before of the chat's earlier turns
	Move(from, to int64) error               // the chat goes on under another number, with all that it has
	Moved(chat int64) (int64, error)         // the number that it goes on under; itself mostly
	Queues() (inbox, outbox int, err error)  // how much waits
	Prune(before time.Time) error            // drops what was finished before
}

// Outgoing is one thing to send. Body is the transport's own.
type Outgoing struct {
	ID    int64
	Chat  int64
	Rank  int       // lower goes first: presses, answers, reminders, reports
	Body  []byte    //
	Edits int64     // the Outgoing whose message this one replaces; 0: a new message
	Due   time.Time // not before
	Until time.Time // not after; zero: whenever
	Tries int
}

// Turn is a message that was dealt with, as its correction needs it.
type Turn struct {
	Message  int64
	Key      int64 // the number that its latest text was applied under
	Edits    int
	Edited   time.Time
	Out      int64   // the Outgoing that answered it
	Said     int64   // a number that its words give; 0: not known
	Reminder int64   // that it asked for; 0: none
	Before   *Memory // the memory before it; only for the chat's newest turn
}

// Buttons are offered together with an answer, under one number. One of them works,
// once; all grow old when the chat goes on.
type Buttons interface {
	Offer(chat int64, buttons []Button) (id int64, err error)
	Press(chat, id int64, which int) (say string, state ButtonState, err error)
	Retire(chat int64) error
}

// ButtonState is what pressing a button finds.
type ButtonState int

// The states of a button.
const (
	ButtonUnknown ButtonState = iota // never offered in this chat
	ButtonLive
	ButtonUsed
	ButtonOld
)
