package vitals

import (
	"bufio"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// openData finds a file of the open data, or skips.
func openData(t *testing.T, name string) string {
	t.Helper()
	dir := os.Getenv("WHORL_DATA")
	if dir == "" {
		dir = filepath.Join("..", "..", "shared", "data")
	}
	path := filepath.Join(dir, name)
	if _, err := os.Stat(path); err != nil {
		t.Skipf("open data not here: %s (set WHORL_DATA)", name)
	}
	return path
}

// intervals reads beat-to-beat intervals, one a line, in units of scale seconds.
func intervals(t *testing.T, name string, scale float64) []float64 {
	t.Helper()
	file, err := os.Open(openData(t, name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var out []float64
	for lines := bufio.NewScanner(file); lines.Scan(); {
		x, err := strconv.ParseFloat(strings.TrimSpace(lines.Text()), 64)
		if err != nil {
			t.Fatal(err)
		}
		if x *= scale; x < 10 { // the first of a sinus file is an offset, not an interval
			out = append(out, x)
		}
	}
	return out
}

// dropBeats leaves out every third to fifth beat, as a second-degree block does: its
// interval is as long as two.
func dropBeats(r *rand.Rand, intervals []float64) []float64 {
	var out []float64
	next := 2 + r.IntN(3)
	for i := 0; i < len(intervals); i++ {
		d := intervals[i]
		if next == 0 && i+1 < len(intervals) {
			i++
			d += intervals[i]
			next = 3 + r.IntN(3)
		}
		next--
		out = append(out, d)
	}
	return out
}

// tapAlong taps on real beats for a window, from a beat on, with 40 ms of jitter.
func tapAlong(r *rand.Rand, intervals []float64, window float64) (at []float64, ok bool) {
	beat := 0.0
	for _, d := range intervals {
		if beat > window {
			return at, true
		}
		at = append(at, beat+0.040*r.NormFloat64())
		beat += d
	}
	return nil, false
}

// TestRhythm prints the table of what was said for what was there, and holds each row at
// 95 %. The horses are simulated: sinus rhythm with 3 % deviation beat to beat, with a swing
// of 8 % that goes with the breath and a slow one of 5 %, and the same with dropped beats.
func TestRhythm(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(5, 6))
	horse := func(rate, swing float64) (out []float64) {
		breath := horseBreath(rate, swing)
		for i := range 3000 {
			out = append(out, 60/rate*(1+breath(i)+0.03*r.NormFloat64()))
		}
		return out
	}
	fibrillation := func(rate, variation float64) (out []float64) {
		shape := int(1/(variation*variation) + 0.5) // of a gamma distribution
		for range 3000 {
			sum := 0.0
			for range shape {
				sum += r.ExpFloat64()
			}
			out = append(out, 60/rate*sum/float64(shape))
		}
		return out
	}
	sinus := intervals(t, "rr/nsr001_rr_secs_first2000.txt", 1)
	healthy := intervals(t, "rr/000_healthy_ms_first2000.txt", 0.001)
	rows := []struct {
		name      string
		intervals []float64
		want      Rhythm
	}{
		{"sinus, person 1", sinus, RhythmRegular},
		{"sinus, person 2", healthy, RhythmRegular},
		{"irregular stretch", intervals(t, "rr/afdb03665_irregular_2000_from_39500.txt", 1), RhythmIrregular},
		{"person 1, dropped beats", dropBeats(r, sinus), RhythmPauses},
		{"person 2, dropped beats", dropBeats(r, healthy), RhythmPauses},
		{"horse, 36 a minute", horse(36, 0), RhythmRegular},
		{"horse, swinging", horse(32, 0.08), RhythmRegular},
		{"horse, dropped beats", dropBeats(r, horse(40, 0)), RhythmPauses},
		{"horse, swinging, dropped", dropBeats(r, horse(36, 0.06)), RhythmPauses},
		{"horse, fibrillation", fibrillation(40, 0.28), RhythmIrregular},
	}
	said := allRhythms
	t.Logf("%-26s %4s %7s %8s %8s %9s %8s %8s", "", "", "windows", said[0], said[1], said[2], "unknown", "no rate")
	for _, row := range rows {
		for _, window := range []float64{30, 60} {
			n, refused, count := 0, 0, map[Rhythm]int{}
			for start := 0; start < len(row.intervals); start += 5 {
				at, ok := tapAlong(r, row.intervals[start:], window)
				if !ok {
					break
				}
				got, err := FromTaps(durations(at))
				if err != nil {
					refused++
				}
				n++
				count[got.Rhythm]++
			}
			t.Logf("%-26s %2.0f s %7d %8d %8d %9d %8d %8d", row.name, window, n,
				count[said[0]], count[said[1]], count[said[2]], count[said[3]], refused)
			if share := float64(count[row.want]) / float64(n); share < 0.95 {
				t.Errorf("%s, %.0f s: %s in %.3f", row.name, window, row.want, share)
			}
		}
	}
}

// horseBreath is the swing of the intervals with the breath, every 3.3 beats, and a slow
// one of 5 %.
func horseBreath(rate, swing float64) func(beat int) float64 {
	return func(i int) float64 {
		return swing*triangle(float64(i)/3.3) + 0.05*triangle(float64(i)/rate/2)
	}
}

// triangle is a wave of period 1 between -1 and 1.
func triangle(x float64) float64 {
	x -= float64(int(x))
	return 1 - 4*max(x-0.5, 0.5-x)
}
