package parse

import (
	"fmt"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
)

// quantiles reports the median and the 99th percentile of what single messages took.
func quantiles(b *testing.B, took []time.Duration) {
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2]), "p50-ns")
	b.ReportMetric(float64(took[len(took)*99/100]), "p99-ns")
}

// Reading the whole corpus, one message an operation.
func BenchmarkParse(b *testing.B) {
	var messages []string
	var langs []string
	for lang, list := range corpusMessages(b) {
		for _, m := range list {
			messages, langs = append(messages, m), append(langs, lang)
		}
	}
	took := make([]time.Duration, 0, 1<<16)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		n := i % len(messages)
		start := time.Now()
		Parse(messages[n], Context{Lang: langs[n]})
		took = append(took, time.Since(start))
	}
	quantiles(b, took)
}

// The first question, alone.
func BenchmarkParseFirstQuestion(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Parse("3000 gallon tank, 7000 per acre, ryegrass 12 lb", Context{Lang: "en"})
	}
}

// The cost by length: the time a byte takes is to stay level.
func BenchmarkParseLength(b *testing.B) {
	const sentence = "how many acres per load with the 3000 gallon tank at 7000 gallons an acre and 12 lb of ryegrass. "
	for _, n := range []int{1, 5, 10, 20} {
		text := strings.Repeat(sentence, n)
		b.Run(fmt.Sprint(len(text)), func(b *testing.B) {
			for b.Loop() {
				Parse(text, Context{Lang: "en"})
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(text)), "ns/byte")
		})
	}
}

// Reading allocates in step with the length of a message, so that no message of the
// longest allowed length costs more than its share.
func TestAllocationsGrowWithLength(t *testing.T) {
	const sentence = "tank 3000 gal, 7000 per acre, ryegrass 12 lb, 40 acres, 12 ft at 3 mph. "
	cost := func(n int) float64 {
		text := strings.Repeat(sentence, n)
		return testing.AllocsPerRun(20, func() { Parse(text, Context{Lang: "en"}) })
	}
	short, long := cost(5), cost(25)
	if long > 6*short {
		t.Errorf("%g allocations for 5 sentences, %g for 25", short, long)
	}
}

// Messages read at the same time share nothing.
func TestReadingAtTheSameTime(t *testing.T) {
	messages := []string{"3000 gallon tank, 7000 per acre, ryegrass 12 lb", "tanque de 4.000 galones, 8000 por acre", "7000, no wait, 8000 per acre", "log load 4 at 2:15", "jars 42 45 39"}
	want := make([]string, len(messages))
	for i, m := range messages {
		want[i] = said(Parse(m, in("")))
	}
	done := make(chan string, runtime.NumCPU()*4)
	for range cap(done) {
		go func() {
			for i := range 400 {
				n := i % len(messages)
				if got := said(Parse(messages[n], in(""))); got != want[n] {
					done <- fmt.Sprintf("%q: %s, want %s", messages[n], got, want[n])
					return
				}
			}
			done <- ""
		}()
	}
	for range cap(done) {
		if bad := <-done; bad != "" {
			t.Error(bad)
		}
	}
}
