package level

import (
	"bufio"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Repeated readings of real individuals: rectal temperature of five mares
// (circadian.org, acknowledged), and of people wearing a wristband (LifeSnaps,
// Yfantidou et al., Scientific Data 9 (2022) 663): resting heart rate, breathing
// in sleep, skin temperature at night. People are not horses; no repeated heart
// or breathing rates of horses were found.

type realSeries struct{ day, y []float64 }

func realSet(t *testing.T, file string, perDay float64) (ids []string, sets map[string]*realSeries) {
	t.Helper()
	dir := os.Getenv("WHORL_DATA")
	if dir == "" {
		dir = filepath.Join("..", "..", "shared", "data")
	}
	f, err := os.Open(filepath.Join(dir, "repeated", file))
	if err != nil {
		t.Skip("no data set: set WHORL_DATA to the folder that holds repeated/" + file)
	}
	defer f.Close()
	sets = map[string]*realSeries{}
	for sc := bufio.NewScanner(f); sc.Scan(); {
		c := strings.Split(sc.Text(), ",")
		day, err1 := strconv.ParseFloat(c[1], 64)
		y, err2 := strconv.ParseFloat(c[2], 64)
		if err1 != nil || err2 != nil {
			continue // the head line
		}
		if sets[c[0]] == nil {
			ids, sets[c[0]] = append(ids, c[0]), &realSeries{}
		}
		s := sets[c[0]]
		s.day, s.y = append(s.day, day/perDay), append(s.y, y)
	}
	return ids, sets
}

func meanSD(ys []float64) (mean, sd float64) {
	for _, y := range ys {
		mean += y / float64(len(ys))
	}
	for _, y := range ys {
		sd += (y - mean) * (y - mean) / float64(len(ys)-1)
	}
	return mean, math.Sqrt(sd)
}

// priorFromOthers estimates what is assumed beforehand from all individuals but one.
func priorFromOthers(ids []string, sets map[string]*realSeries, but string, leastOmega float64) Setting {
	var means, logs []float64
	for _, id := range ids {
		if id != but {
			m, sd := meanSD(sets[id].y)
			means, logs = append(means, m), append(logs, math.Log(sd))
		}
	}
	m0, tau := meanSD(means)
	ls, omega := meanSD(logs)
	return Setting{M0: m0, Tau: tau, Sigma0: math.Exp(ls), Omega: max(leastOmega, omega)}
}

type score struct{ events, covered, width, high float64 }

func (s *score) add(y, lo, hi float64) {
	s.events++
	s.width += hi - lo
	if y >= lo && y <= hi {
		s.covered++
	}
	if y > hi {
		s.high++
	}
}

// ahead finds the first reading at least days after the history from..to-1, at
// most three days later than that; days 1 is the next reading.
func (s *realSeries) ahead(from, to int, days float64) (at int, ok bool) {
	if days <= 1 {
		return to, to < len(s.y)
	}
	last := s.day[max(from, to-1)]
	for at = to; at < len(s.y) && s.day[at] < last+days; at++ {
	}
	return at, at < len(s.y) && s.day[at] <= last+days+3
}

// Leave-future-out: from every seventh reading on, n readings in a row are
// learned and a later one is judged. What is assumed beforehand comes from the
// other people. Daily events overlap: standard errors are .01 to .02.
func TestRealPeople(t *testing.T) {
	t.Parallel()
	type cell struct{ lo, hi float64 }
	for _, v := range []struct {
		file  string
		ahead float64
		cover cell
	}{
		{"human_sleep_resp.csv", 1, cell{.93, .98}},
		{"human_sleep_resp.csv", 14, cell{.93, .98}},
		{"human_nightly_skin_temp.csv", 1, cell{.93, .98}},
		{"human_nightly_skin_temp.csv", 14, cell{.93, .98}},
		{"human_resting_hr.csv", 1, cell{.94, 1}},
		{"human_resting_hr.csv", 14, cell{.87, 1}},
	} {
		ids, sets := realSet(t, v.file, 1)
		every := 28
		if long() {
			every = 1
		}
		for _, n := range []int{0, 1, 2, 3, 5, 10, 20} {
			var plain, shipped score
			for _, id := range ids {
				s := sets[id]
				a := priorFromOthers(ids, sets, id, .3)
				b := a
				b.Drift, b.Walk = true, Walk
				la, lb := New(a), newShipped(b)
				for from := 0; from+n < len(s.y); from += every {
					at, ok := s.ahead(from, from+n, v.ahead)
					if !ok {
						continue
					}
					var ps []Reading
					for k := from; k < from+n; k++ {
						ps = append(ps, Reading{Day: s.day[k], Y: s.y[k]})
					}
					la.Fit(ps)
					lo, hi := la.Predict(s.day[at], 0, 0).Limits(.95)
					plain.add(s.y[at], lo, hi)
					lo, hi = lb.fit(ps, 0, s.day[at]).Predict(s.day[at], 0, 0).Limits(.95)
					shipped.add(s.y[at], lo, hi)
				}
			}
			cover, width := shipped.covered/shipped.events, shipped.width/shipped.events
			t.Logf("%s, %g days on, n=%d: %.3f / %.2f of %.0f (plain %.3f / %.2f)", v.file, v.ahead, n, cover, width, shipped.events, plain.covered/plain.events, plain.width/plain.events)
			if n == 0 {
				continue
			}
			// The short form sees one event in 28.
			slack := 1.5 / math.Sqrt(shipped.events)
			if long() {
				slack = 1e-9
			}
			if cover < v.cover.lo-slack || cover > v.cover.hi+slack {
				t.Errorf("%s, %g days on, n=%d: covered %.3f, wanted %.2f..%.2f", v.file, v.ahead, n, cover, v.cover.lo, v.cover.hi)
			}
			if strings.Contains(v.file, "hr") && v.ahead == 1 && n >= 10 && shipped.width >= plain.width {
				t.Errorf("resting heart rate, n=%d: not narrower than the plain model", n)
			}
		}
	}
}

// Rectal temperature of mares at any hour of a later day, learned at 8 o'clock
// only. Three mares of one barn: the standard error is .01 to .03.
func TestRealMares(t *testing.T) {
	t.Parallel()
	ids, sets := realSet(t, "horse_rectal_temp.csv", 24)
	for _, v := range []struct {
		name string
		set  Setting
	}{
		{"plain", Setting{}},
		{"drift", Setting{Drift: true}},
		{"rhythm", Setting{Rhythm: &Rhythm{.25, .1, 16, 23}}},
		{"shipped", Setting{Rhythm: &Rhythm{.25, .1, 16, 23}, Drift: true, BadDays: true, Walk: Walk}},
	} {
		set := v.set
		set.M0, set.Tau, set.Sigma0, set.Omega = 38, .3, .2, .5
		l := New(set)
		for _, n := range []int{1, 3, 5, 9} {
			var any, morning score
			for _, id := range ids {
				s := sets[id]
				for from := 0; ; from++ {
					var ps []Reading
					for k := range s.y {
						hour := math.Mod(s.day[k]*24, 24)
						day := int(s.day[k])
						if day < from || day > from+n {
							continue
						}
						if math.Abs(hour-8) < .1 && day < from+n {
							ps = append(ps, Reading{Day: s.day[k], Hour: hour, Y: s.y[k], SD: .05})
						}
					}
					if len(ps) < n {
						break
					}
					l.Fit(ps)
					for k := range s.y {
						hour := math.Mod(s.day[k]*24, 24)
						if s.day[k] < ps[n-1].Day+.5 || s.day[k] > ps[n-1].Day+1.7 || hour < 5.9 || hour > 22.1 {
							continue
						}
						lo, hi := l.Predict(s.day[k], hour, .05).Limits(.95)
						any.add(s.y[k], lo, hi)
						if math.Abs(hour-8) < .1 {
							morning.add(s.y[k], lo, hi)
						}
					}
				}
			}
			cover, high := any.covered/any.events, any.high/any.events
			t.Logf("%s, n=%d: any hour %.3f / %.2f, false high %.3f of %.0f; at 8 h %.3f / %.2f", v.name, n, cover, any.width/any.events, high, any.events, morning.covered/morning.events, morning.width/morning.events)
			if v.set.Rhythm != nil && n >= 3 && (cover < .93 || high > .04) {
				t.Errorf("%s, n=%d: covered %.3f, false high %.3f", v.name, n, cover, high)
			}
			if v.set.Rhythm == nil && n >= 5 && cover > .8 {
				t.Errorf("%s, n=%d: covered %.3f: the data show no rhythm to learn", v.name, n, cover)
			}
		}
	}
}
