package bot

import (
	"slices"
	"testing"
	"time"
)

// Reading, deciding and wording the first question.
func BenchmarkAnswer(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		askText("3000 gallon tank, 7000 per acre, ryegrass 12 lb")
	}
}

// The whole corpus answered, one message an operation.
func BenchmarkAnswerCorpus(b *testing.B) {
	var lines []line
	for _, l := range corpusLines(b) {
		lines = append(lines, l...)
	}
	took := make([]time.Duration, 0, 1<<16)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		start := time.Now()
		askText(lines[i%len(lines)].text)
		took = append(took, time.Since(start))
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2]), "p50-ns")
	b.ReportMetric(float64(took[len(took)*99/100]), "p99-ns")
}
