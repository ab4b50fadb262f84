package telegram

import (
	"sync/atomic"
	"time"

	"github.com/prometheus/client_golang/prometheus"
)

// Metrics are what there is to watch.
type Metrics struct {
	updates  *prometheus.CounterVec
	dealtBy  *prometheus.CounterVec
	latency  prometheus.Histogram
	calls    *prometheus.HistogramVec
	sentBy   *prometheus.CounterVec
	problems *prometheus.CounterVec
	waiting  prometheus.Gauge
}

// NewMetrics makes the metrics and registers them; without a registry nobody sees them.
func NewMetrics(reg prometheus.Registerer) *Metrics {
	vec := func(name, help string, labels ...string) *prometheus.CounterVec {
		return prometheus.NewCounterVec(prometheus.CounterOpts{Namespace: "tankside", Name: name, Help: help}, labels)
	}
	m := &Metrics{
		updates: vec("updates_total", "Updates received.", "kind"),
		dealtBy: vec("messages_total", "Messages dealt with, by kind and outcome; understood is what is not not_understood.", "kind", "status"),
		latency: prometheus.NewHistogram(prometheus.HistogramOpts{Namespace: "tankside", Name: "work_seconds", Help: "From when a message was sent until its answer was written.",
			Buckets: []float64{.01, .025, .05, .1, .2, .5, 1, 2, 5, 15, 60, 3600}}),
		calls: prometheus.NewHistogramVec(prometheus.HistogramOpts{Namespace: "tankside", Name: "call_seconds", Help: "Calls of the Bot API.",
			Buckets: []float64{.01, .05, .1, .2, .5, 1, 2, 5, 20}}, []string{"method", "ok"}),
		sentBy:   vec("sent_total", "Messages sent, by rank.", "rank"),
		problems: vec("problems_total", "What went wrong, by kind.", "kind"),
		waiting:  prometheus.NewGauge(prometheus.GaugeOpts{Namespace: "tankside", Name: "outbox_in_memory", Help: "Messages that wait to be sent."}),
	}
	if reg != nil {
		reg.MustRegister(m.updates, m.dealtBy, m.latency, m.calls, m.sentBy, m.problems, m.waiting)
	}
	return m
}

func (m *Metrics) received(fresh, again int) {
	m.updates.WithLabelValues("new").Add(float64(fresh))
	m.updates.WithLabelValues("repeated").Add(float64(again))
}

func (m *Metrics) dealt(t tally, now time.Time) {
	m.dealtBy.WithLabelValues(t.kind, t.status).Inc()
	if !t.since.IsZero() {
		m.latency.Observe(max(now.Sub(t.since), 0).Seconds())
	}
}

func (m *Metrics) called(method string, took time.Duration, err error) {
	ok := "yes"
	if err != nil {
		ok = "no"
	}
	m.calls.WithLabelValues(method, ok).Observe(took.Seconds())
}

func (m *Metrics) sent(rank int) {
	m.sentBy.WithLabelValues([...]string{"press", "answer", "reminder", "report"}[min(rank, 3)]).Inc()
}

func (m *Metrics) problem(kind string) { m.problems.WithLabelValues(kind).Inc() }
func (m *Metrics) queue(n int)         { m.waiting.Set(float64(n)) }

// reminded counts reminders as messages dealt with.
func (m *Metrics) reminded(kind string) { m.dealtBy.WithLabelValues("reminder", kind).Inc() }

// atomicTime is a time that several goroutines set and read.
type atomicTime struct{ nanos atomic.Int64 }

func (a *atomicTime) set(t time.Time) { a.nanos.Store(t.UnixNano()) }
func (a *atomicTime) get() time.Time {
	if n := a.nanos.Load(); n != 0 {
		return time.Unix(0, n)
	}
	return time.Time{}
}
