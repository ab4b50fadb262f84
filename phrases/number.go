package phrases

import (
	"bytes"
	"math"
	"strconv"

	"github.com/dustin/go-humanize"
)

// appendDecimals writes v with thousands set apart by commas and a point before the
// decimals, as Spanish in North America does too, and exactly so many decimals.
// With -1 it writes as many as v has: v is rounded before, so the shortest form
// that reads back the same is the wanted one.
func appendDecimals(dst []byte, v float64, decimals int) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return append(dst, '?') // engine never lets one out
	}
	var room [64]byte
	digits := strconv.AppendFloat(room[:0], v, 'f', decimals, 64)
	if len(digits) > 0 && digits[0] == '-' {
		dst, digits = append(dst, "−"...), digits[1:]
	}
	whole := bytes.IndexByte(digits, '.')
	if whole < 0 {
		whole = len(digits)
	}
	if whole <= 3 {
		return append(dst, digits...)
	}
	n, err := strconv.ParseInt(string(digits[:whole]), 10, 64)
	if err != nil {
		return append(dst, digits...) // beyond anything the engine lets out
	}
	dst = append(dst, humanize.Comma(n)...)
	return append(dst, digits[whole:]...)
}
