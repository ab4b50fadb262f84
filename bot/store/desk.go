package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"tankside/bot"
)

var (
	_ bot.Desk  = (*Store)(nil)
	_ bot.Leads = (*Store)(nil)
)

// Do runs f in one transaction. Once begun it is not broken off, except by a deadline
// where there is a network: it is short, and a context that can end costs a goroutine
// a statement.
func (s *Store) Do(ctx context.Context, f func(bot.Tx) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	deadline, limited := ctx.Deadline()
	ctx = context.WithoutCancel(ctx)
	if limited && s.write.most > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithDeadline(ctx, deadline)
		defer cancel()
	}
	return s.write.in(ctx, func(q *query) error { return f(tx{q, s.Now()}) })
}

// tx is a bot.Tx.
type tx struct {
	*query
	now time.Time
}

func (t tx) Load(chat, id int64, at time.Time) (bot.Memory, bot.Book, *bot.Reply, error) {
	m, book, seen, err := t.load(chat, id, at)
	if err != nil {
		err = fmt.Errorf("chat %d: %w", chat, err)
	}
	return m, book, seen, err
}

func (t tx) Apply(chat, id int64, m bot.Memory, effects []bot.Effect, r *bot.Reply) error {
	memory, reply, err := written(m, r)
	if err == nil {
		err = t.save(chat, id, memory, reply, effects, t.now)
	}
	if err != nil {
		return fmt.Errorf("chat %d: save message %d: %w", chat, id, err)
	}
	return nil
}

func (t tx) Logged(chat, id int64) (list []bot.Logged, err error) {
	loads, err := t.loads(loggedBy, chat, id)
	for _, l := range loads {
		one := bot.Logged{Load: l}
		if one.Replaces = 0; err == nil && l.Replaces != 0 {
			one.Was, err = t.displaced(chat, l.Replaces)
		}
		list = append(list, one)
	}
	return list, err
}

// displaced reads a row that another has taken the place of. It keeps its message's
// number, so that it belongs to it when it is added again.
func (t tx) displaced(chat, n int64) (*bot.Load, error) {
	list, err := t.loads(byRow, chat, n)
	if err != nil || len(list) == 0 {
		return nil, err
	}
	_, err = t.one(freePart, []any{chat, list[0].ID}, &list[0].Part)
	return &list[0], err
}

func (t tx) Receive(in bot.Incoming) (bool, error) {
	n, err := t.exec(addInbox, in.Number, in.Chat, string(in.Raw), t.now.UnixMicro())
	return n > 0, err
}

func (t tx) Waiting(after int64, limit int) ([]bot.Incoming, error) {
	if t.h.lockFree != "" {
		return t.waitingFree(after, limit)
	}
	return t.incoming(waiting, after, limit)
}

func (t tx) Finish(number int64, trouble string) error {
	_, err := t.exec(finish, number, t.now.UnixMicro(), trouble)
	return err
}

func (t tx) Offset() (next int64, err error) {
	_, err = t.one(getNext, nil, &next)
	return next, err
}

func (t tx) SetOffset(next int64) error {
	_, err := t.exec(putNext, next)
	return err
}

func (t tx) Offer(chat int64, buttons []bot.Button) (id int64, err error) {
	says := make([]string, len(buttons))
	for i, b := range buttons {
		says[i] = b.Say
	}
	text, err := json.Marshal(says)
	if err != nil {
		return 0, err
	}
	_, err = t.one(addButtons, []any{chat, string(text)}, &id)
	return id, err
}

func (t tx) Press(chat, id int64, which int) (say string, state bot.ButtonState, err error) {
	var text string
	found, err := t.one(getButtons, []any{id, chat}, &text, &state)
	if err != nil || !found {
		return "", bot.ButtonUnknown, err
	}
	var says []string
	if err := json.Unmarshal([]byte(text), &says); err != nil {
		return "", state, err
	}
	if which < 0 || which >= len(says) {
		return "", bot.ButtonUnknown, nil
	}
	if state == bot.ButtonLive {
		_, err = t.exec(useButtons, id)
	}
	return says[which], state, err
}

func (t tx) Retire(chat int64) error {
	_, err := t.exec(retire, chat)
	return err
}

func (t tx) Turn(chat, message int64) (*bot.Turn, error) {
	turn := &bot.Turn{Message: message}
	var edited int64
	var memory string
	found, err := t.one(getTurn, []any{chat, message}, &turn.Key, &turn.Edits, &edited, &turn.Out, &turn.Said, &turn.Reminder, &memory)
	if err != nil || !found {
		return nil, err
	}
	turn.Edited = moment(edited)
	if memory != "" {
		turn.Before = new(bot.Memory)
		err = t.read(sql.NullString{String: memory, Valid: true}, turn.Before)
	}
	return turn, err
}

func (t tx) PutTurn(chat int64, turn bot.Turn) error {
	if _, err := t.exec(dropTurns, chat); err != nil {
		return err
	}
	memory := ""
	if turn.Before != nil {
		text, err := json.Marshal(turn.Before)
		if err != nil {
			return err
		}
		memory = string(text)
	}
	_, err := t.exec(putTurn, chat, turn.Message, turn.Key, turn.Edits, micros(turn.Edited), turn.Out, turn.Said, turn.Reminder, memory)
	return err
}

// lift is how far message numbers are raised when a chat moves: past all that
// messages and their corrections can have.
const lift = int64(1) << 56

var errTwoLogs = errors.New("both numbers have a log of their own")

// Move gives everything of a chat another number. Done twice it changes nothing.
func (t tx) Move(from, to int64) error {
	fresh, err := t.exec(addMoved, from, to)
	if err != nil || fresh == 0 {
		return err
	}
	var loads int
	if _, err := t.one(hasLoads, []any{to}, &loads); err != nil {
		return err
	}
	if loads > 0 {
		return fmt.Errorf("chat %d goes on as %d: %w", from, to, errTwoLogs)
	}
	for _, text := range moves {
		args := []any{from, to, lift}
		if _, err := t.exec(text, args[:parameters(text)]...); err != nil {
			return fmt.Errorf("chat %d goes on as %d: %w", from, to, err)
		}
	}
	return nil
}

// parameters is how many a statement has.
func parameters(text string) (n int) {
	for strings.Contains(text, fmt.Sprintf("$%d", n+1)) {
		n++
	}
	return n
}

func (t tx) Moved(chat int64) (int64, error) {
	to := chat
	_, err := t.one(getMoved, []any{chat}, &to)
	return to, err
}

func (t tx) Queues() (inbox, outbox int, err error) {
	if _, err = t.one(inWait, nil, &inbox); err == nil {
		_, err = t.one(outWait, nil, &outbox)
	}
	return inbox, outbox, err
}

func (t tx) Prune(before time.Time) error {
	for _, text := range []string{pruneInbox, pruneOutbox, pruneReminders} {
		if _, err := t.exec(text, before.UnixMicro()); err != nil {
			return err
		}
	}
	for _, text := range []string{pruneTurns, pruneButtons} { // they go by the numbers of what is gone
		if _, err := t.exec(text); err != nil {
			return err
		}
	}
	return nil
}

// micros and moment keep the zero time as 0.
func micros(t time.Time) int64 {
	if t.IsZero() {
		return 0
	}
	return t.UnixMicro()
}

func moment(micros int64) time.Time {
	if micros == 0 {
		return time.Time{}
	}
	return time.UnixMicro(micros).UTC()
}

func (t tx) Past(chat int64, r bot.Recall) ([]bot.Load, error) { return t.past(chat, r) }
