package main

import (
	"net/http"
	"strings"
	"testing"
	"time"
)

// Two replicas that ask for updates, one at a time. The network between the one that
// has the turn and the database is cut, then half-open: it says so in its health, the
// other one takes over within seconds, and nothing is lost.
func TestReplicasWithFaultyNetwork(t *testing.T) {
	f := newFarm(t, 2, false)
	chats := f.letIn(20)
	said := map[int64][]int{}
	bob := f.api.Person(8, "Bob")
	round := func(what string, most time.Duration) {
		t.Helper()
		began := time.Now()
		for _, chat := range chats {
			said[chat] = append(said[chat], f.say(bob, chat))
		}
		f.await("answers: "+what, most, func() bool { return f.unanswered() == 0 })
		t.Logf("%-40s all answered after %v", what, time.Since(began).Round(10*time.Millisecond))
	}
	round("all is well", 10*time.Second)
	for i, r := range f.replicas {
		r.proxy.Cut(true)
		f.sick(r)
		round([]string{"first", "second"}[i]+" replica cut off", 20*time.Second)
		r.proxy.Heal()
		f.healthy(r)
	}
	r := f.replicas[0]
	r.proxy.Stall()
	f.sick(r)
	r.proxy.Cut(true) // the server notices by itself: its keepalive is the network's
	round("half-open, then ended by the server", 20*time.Second)
	r.proxy.Heal()
	f.healthy(r)
	for _, r := range f.replicas {
		r.proxy.Slow(5 * time.Millisecond)
	}
	round("slow: 5 ms more each way", 40*time.Second)
	twice := 0
	for chat, ids := range said {
		twice += f.checkChat(chat, ids)
	}
	if twice > 0 {
		t.Logf("%d answers came twice", twice)
	}
}

// sick waits for a replica to say that it has no database.
func (f *farm) sick(r *replica) {
	f.t.Helper()
	began := time.Now()
	f.await("a word about the database", 10*time.Second, func() bool {
		status, text := r.ready()
		return status == http.StatusServiceUnavailable && strings.Contains(text, "database: ")
	})
	f.t.Logf("said in its health after %v", time.Since(began).Round(10*time.Millisecond))
}

func (f *farm) healthy(r *replica) {
	f.t.Helper()
	f.await("health", 20*time.Second, func() bool { status, _ := r.ready(); return status == http.StatusOK })
}
