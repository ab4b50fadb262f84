package telegram

import (
	"container/heap"
	"time"

	"golang.org/x/time/rate"

	"tankside/bot"
)

// The ranks of what goes out; lower goes first when not all can go.
const (
	rankPress = iota
	rankAnswer
	rankReminder
	rankReport
)

// parcel is one thing to send.
type parcel struct {
	bot.Outgoing
	call call
}

// lane is the queue of one chat: strictly in order, one at a time.
type lane struct {
	key     int64 // in the sender's map
	chat    int64
	queue   []*parcel
	limit   *rate.Limiter // nil: no limit
	holds   int           // failures in a row
	at      time.Time     // not before
	turn    uint64        // when it last had its turn: the longest wait goes first
	index   int           // in its heap; -1: in none
	sending bool
	used    time.Time
}

// lanes is a heap: of those that wait for a time, or of those that may go.
type lanes struct {
	list   []*lane
	before func(a, b *lane) bool
}

func (h *lanes) Len() int           { return len(h.list) }
func (h *lanes) Less(i, j int) bool { return h.before(h.list[i], h.list[j]) }
func (h *lanes) Swap(i, j int) {
	h.list[i], h.list[j] = h.list[j], h.list[i]
	h.list[i].index, h.list[j].index = i, j
}
func (h *lanes) Push(x any) {
	l := x.(*lane)
	l.index = len(h.list)
	h.list = append(h.list, l)
}
func (h *lanes) Pop() any {
	l := h.list[len(h.list)-1]
	h.list, l.index = h.list[:len(h.list)-1], -1
	return l
}

func (h *lanes) put(l *lane) { heap.Push(h, l) }
func (h *lanes) take() *lane { return heap.Pop(h).(*lane) }

// sooner orders lanes that wait for a time.
func sooner(a, b *lane) bool { return a.at.Before(b.at) }

// fairer orders lanes that may go: by rank, then by who has waited longest.
func fairer(a, b *lane) bool {
	if ra, rb := a.queue[0].Rank, b.queue[0].Rank; ra != rb {
		return ra < rb
	}
	return a.turn < b.turn
}
