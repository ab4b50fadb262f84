package main

import (
	"net/http"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Two replicas that ask for updates, one at a time. Each is killed; then the network
// between it and the database is cut, then half-open: it says so in its health, the other
// one takes over within seconds, and nothing is lost.
func TestReplicasWithFaultyNetwork(t *testing.T) {
	f := newFarm(t, 2, false, "--no-limits")
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
		f.settle(20 * time.Second) // what was sent is also marked: the next fault finds nothing half done
	}
	round("all is well", 10*time.Second)
	for i, r := range f.replicas {
		r.kill()
		round([]string{"first", "second"}[i]+" replica killed", 20*time.Second)
		r.start()
		f.healthy(r)
	}
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
		t.Errorf("%d answers came twice, though none was on its way at a fault", twice)
	}
}

// Two replicas keep to the limits of one token: 25 messages at once, then 25 a second,
// and to a group five at once, then one in three seconds.
func TestReplicasShareLimits(t *testing.T) {
	f := newFarm(t, 2, true)
	chats := f.letIn(80)
	bob := f.api.Person(8, "Bob")
	began := time.Now()
	for _, chat := range chats {
		f.say(bob, chat)
	}
	f.await("answers", 20*time.Second, func() bool { return f.unanswered() == 0 })
	if took, least := time.Since(began), 55*time.Second/25; took < least*9/10 {
		t.Errorf("80 messages in %v: two buckets instead of one; it should have taken %v", took, least)
	}
	began = time.Now()
	for range 6 {
		f.say(bob, chats[0])
	}
	f.await("answers in one chat", 20*time.Second, func() bool { return f.unanswered() == 0 })
	if took := time.Since(began); took < 2*time.Second {
		t.Errorf("6 more messages to one group in %v", took)
	}
	if out := said(t, 1, "move-log", f.postgres.URL(f.database), filepath.Join(t.TempDir(), "log.db")); !strings.Contains(out, "running") {
		t.Errorf("a log was moved while it was in use: %s", out)
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
