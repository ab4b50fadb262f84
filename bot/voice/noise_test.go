package voice

import (
	"math"
	"math/rand/v2"
)

// engineNoise is a cab: a six-cylinder four-stroke at 1,900 rev/min (three firings a
// turn, 95 Hz, and what comes at half of that), the rumble of the ground (brown) and
// hiss of fan and air (pink), in equal parts as they are between 100 Hz and 8 kHz.
func engineNoise(n int, seed uint64) []float64 {
	chance := rand.New(rand.NewPCG(seed, 7))
	sum := make([]float64, n)
	for _, part := range [][]float64{firing(n, chance), brown(n, chance), pink(n, chance)} {
		scale := 1 / math.Sqrt(power(aboveRumble(part)))
		for i := range sum {
			sum[i] += part[i] * scale
		}
	}
	return sum
}

// firing is the harmonics of the engine; the speed wanders by a percent.
func firing(n int, chance *rand.Rand) []float64 {
	const base = 1900.0 / 60 * 3 / 2
	out, phases := make([]float64, n), make([]float64, 60)
	for k := range phases {
		phases[k] = chance.Float64() * 2 * math.Pi
	}
	turn, wander := 0.0, 0.0
	for i := range out {
		wander = 0.9999*wander + 0.0001*chance.NormFloat64()
		turn += 2 * math.Pi * base * (1 + wander) / Rate
		for k, phase := range phases {
			h := float64(k + 1)
			loud := 1 / h
			if k%2 == 0 { // between the firings
				loud /= 4
			}
			out[i] += loud * math.Sin(h*turn+phase)
		}
	}
	return out
}

func brown(n int, chance *rand.Rand) []float64 {
	out, x := make([]float64, n), 0.0
	for i := range out {
		x = 0.998*x + chance.NormFloat64()
		out[i] = x
	}
	return out
}

// pink filters white noise (Kellet's three poles).
func pink(n int, chance *rand.Rand) []float64 {
	out := make([]float64, n)
	var a, b, c float64
	for i := range out {
		w := chance.NormFloat64()
		a, b, c = 0.99765*a+0.0990460*w, 0.96300*b+0.2965164*w, 0.57000*c+1.0526913*w
		out[i] = a + b + c + 0.1848*w
	}
	return out
}

// aboveRumble lets through what is above 100 Hz (two poles).
func aboveRumble(x []float64) []float64 {
	out := make([]float64, len(x))
	w := 2 * math.Pi * 100 / Rate
	alpha, cos := math.Sin(w)/math.Sqrt2, math.Cos(w)
	var x1, x2, y1, y2 float64
	for i, v := range x {
		y := ((1+cos)/2*v - (1+cos)*x1 + (1+cos)/2*x2 + 2*cos*y1 - (1-alpha)*y2) / (1 + alpha)
		x2, x1, y2, y1 = x1, v, y1, y
		out[i] = y
	}
	return out
}

func power(x []float64) float64 {
	var sum float64
	for _, v := range x {
		sum += v * v
	}
	return sum / float64(max(len(x), 1))
}

// speechPower is the power of what is not a pause: frames within 30 dB of the loudest.
func speechPower(x []float64) float64 {
	const frame = Rate / 50
	x = aboveRumble(x)
	var loudest float64
	for i := 0; i+frame <= len(x); i += frame {
		loudest = max(loudest, power(x[i:i+frame]))
	}
	var sum, count float64
	for i := 0; i+frame <= len(x); i += frame {
		if p := power(x[i : i+frame]); p > loudest/1000 {
			sum, count = sum+p, count+1
		}
	}
	return sum / max(count, 1)
}

func floats(s Sound) []float64 {
	x := make([]float64, len(s))
	for i, v := range s {
		x[i] = float64(v)
	}
	return x
}

// withNoise mixes engine noise in, so many decibels below the speech.
func withNoise(s Sound, decibels float64, seed uint64) Sound {
	x := floats(s)
	noise := engineNoise(len(s), seed)
	scale := math.Sqrt(speechPower(x) / power(aboveRumble(noise)) * math.Pow(10, -decibels/10))
	out := make(Sound, len(s))
	for i := range s {
		out[i] = clip(0.5 * (x[i] + scale*noise[i])) // room, so that nothing clips
	}
	return out
}
