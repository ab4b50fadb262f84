package voice

import (
	"math"
	"math/cmplx"
	"slices"
)

// Frames of 32 ms, each half over the one before.
const (
	frameSize = 512
	frameStep = frameSize / 2
)

// quieten takes steady noise away, such as an engine's. Per frequency the noise is
// what the quietest tenth of the frames have; what stands out of it is kept by a
// Wiener gain whose estimate of the speech leans on the frame before (decision
// directed, Ephraim and Malah 1984, from memory). Clean speech is left almost as it is.
func quieten(s Sound) Sound {
	spectra := transform(s)
	noise := noiseOf(spectra)
	const lean, least = 0.96, 0.12
	before := make([]float64, frameSize/2+1) // the speech in the frame before, over the noise
	for _, frame := range spectra {
		for k := range before {
			over := square(frame[k]) / noise[k]
			speech := lean*before[k] + (1-lean)*max(over-1, 0)
			gain := max(speech/(1+speech), least)
			before[k] = gain * gain * over
			frame[k] *= complex(gain, 0)
		}
	}
	return restore(spectra, len(s))
}

func square(c complex128) float64 { return real(c)*real(c) + imag(c)*imag(c) }

// noiseOf is the noise power at each frequency. The quietest tenth of noise alone
// has a fraction of its mean power; the factor makes up for that.
func noiseOf(spectra [][]complex128) []float64 {
	const share, factor = 0.1, 4.0
	noise, column := make([]float64, frameSize/2+1), make([]float64, len(spectra))
	for k := range noise {
		for i, frame := range spectra {
			column[i] = square(frame[k])
		}
		slices.Sort(column)
		noise[k] = 1 + factor*column[int(share*float64(len(column)-1))]
	}
	return noise
}

// window is the root of a Hann window, used before and after: the two overlap to one.
var window = func() (w [frameSize]float64) {
	for i := range w {
		w[i] = math.Sin(math.Pi * (float64(i) + 0.5) / frameSize)
	}
	return w
}()

// transform gives the spectrum of each frame, up to half the rate.
func transform(s Sound) [][]complex128 {
	count := (len(s)+frameStep-1)/frameStep + 1
	spectra := make([][]complex128, count)
	for i := range spectra {
		frame := make([]complex128, frameSize)
		for j := range frame {
			if at := (i-1)*frameStep + j; at >= 0 && at < len(s) {
				frame[j] = complex(float64(s[at])*window[j], 0)
			}
		}
		fourier(frame)
		spectra[i] = frame[:frameSize/2+1]
	}
	return spectra
}

// restore adds the frames up again.
func restore(spectra [][]complex128, n int) Sound {
	sum := make([]float64, n)
	for i, half := range spectra {
		frame := make([]complex128, frameSize)
		copy(frame, half)
		for k := 1; k < frameSize/2; k++ {
			frame[frameSize-k] = cmplx.Conj(half[k])
		}
		// The inverse is the transform of the conjugate: the result is real.
		for k := range frame {
			frame[k] = cmplx.Conj(frame[k])
		}
		fourier(frame)
		for j := range frame {
			if at := (i-1)*frameStep + j; at >= 0 && at < n {
				sum[at] += real(frame[j]) / frameSize * window[j]
			}
		}
	}
	out := make(Sound, n)
	for i, v := range sum {
		out[i] = clip(v)
	}
	return out
}

// fourier transforms in place; the length is a power of two.
func fourier(x []complex128) {
	n := len(x)
	for i, j := 1, 0; i < n; i++ {
		bit := n >> 1
		for ; j&bit != 0; bit >>= 1 {
			j ^= bit
		}
		if j ^= bit; i < j {
			x[i], x[j] = x[j], x[i]
		}
	}
	for size := 2; size <= n; size *= 2 {
		step := cmplx.Rect(1, -2*math.Pi/float64(size))
		for from := 0; from < n; from += size {
			turn := complex(1, 0)
			for k := from; k < from+size/2; k++ {
				a, b := x[k], x[k+size/2]*turn
				x[k], x[k+size/2] = a+b, a-b
				turn *= step
			}
		}
	}
}
