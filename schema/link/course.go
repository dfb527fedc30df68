package link

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"whorl.example/baseline"
	"whorl.example/baseline/watch"
	"whorl.example/vitals"
)

// Course is where the rechecks before the exam went, as the sender's device found it,
// by column, one entry for each sign that was looked at more than once. Figures are whole
// numbers, cut off, as in [Rests]. The looks themselves stay with the sender.
type Course struct {
	// Of is "sign" or "sign/site".
	Of []string `json:"of"`
	// Looks is how many there are of each; then the minutes of all looks from the exam's time,
	// the measured ones' values and SDs, and the answers of the graded ones, joined by a comma.
	Looks   []int    `json:"looks"`
	Minutes []int    `json:"minutes"`
	Values  []int    `json:"values,omitempty"`
	SDs     []int    `json:"sds,omitempty"`
	Chosen  []string `json:"chosen,omitempty"`
	// Way has a letter for each: r rising, f falling, n none shown, t too few, k not known;
	// b better, w worse, s same, - not told.
	Way string `json:"way"`
	// Slope has, of each measured sign, the slope an hour, its low and high, what would have
	// shown, and the minutes in which it is said; five zeros where there is none.
	Slope []int `json:"slope,omitempty"`
	// Ranks: [place, slope an hour, P in millionths].
	Ranks   [][]int `json:"ranks,omitempty"`
	Missing []int   `json:"missing"`
	// Warnings: [place, key, args…].
	Warnings [][]string `json:"warnings,omitempty"`
}

const wayLetters = "rfntk"

var ways = []watch.Trend{watch.Rising, watch.Falling, watch.NoTrendShown, watch.TooFew, watch.TrendNotKnown}

const courseLetters = "bws"

var courses = []vitals.Course{vitals.Better, vitals.Worse, vitals.Same}

// maxLooks bounds what a link can hold of rechecks, all signs together: sixty signs looked at every
// half hour of a night. What does not move is left out first.
const maxLooks = 1000

// slopeStep is how much finer than a value a slope travels.
const slopeStep = 1000

// courseOf gives what travels of the watched signs; nil for nothing.
func courseOf(at time.Time, watched []watch.Watched) *Course {
	var c Course
	minutes := func(t time.Time) int { return int(math.Round(t.Sub(at).Minutes())) }
	send := fitting(watched)
	for i, w := range watched {
		if !send[i] {
			continue
		}
		n := len(w.Points) + len(w.Answers)
		place := strconv.Itoa(len(c.Of))
		name := string(w.Sign)
		if w.Site != "" {
			name += "/" + string(w.Site)
		}
		c.Of, c.Looks, c.Missing = append(c.Of, name), append(c.Looks, n), append(c.Missing, w.Missing)
		way := "-"
		step := stepOf(w.Sign)
		for _, p := range w.Points {
			c.Minutes = append(c.Minutes, minutes(p.At))
			c.Values, c.SDs = append(c.Values, cut(p.Value, step)), append(c.SDs, cut(p.SD, step))
		}
		for _, a := range w.Answers {
			c.Minutes, c.Chosen = append(c.Minutes, minutes(a.At)), append(c.Chosen, join(a.Chosen))
		}
		if len(w.Points) > 0 {
			if i := slices.Index(ways, w.Trend); i >= 0 {
				way = wayLetters[i : i+1]
			}
			slope := make([]int, 5)
			if s := w.Slope; s != nil {
				fine := step * slopeStep
				slope = []int{cut(s.PerHour, fine), cut(s.Low, fine), cut(s.High, fine), cut(s.WouldShow, fine), s.EveryMinutes}
			}
			c.Slope = append(c.Slope, slope...)
			if r := w.Robust; r != nil {
				c.Ranks = append(c.Ranks, []int{len(c.Of) - 1, cut(r.PerHour, step*slopeStep), millionths(r.P)})
			}
		} else if i := slices.Index(courses, w.Course); i >= 0 {
			way = courseLetters[i : i+1]
		}
		c.Way += way
		for _, x := range w.Warnings {
			c.Warnings = append(c.Warnings, append([]string{place, x.Key}, x.Args...))
		}
	}
	if len(c.Of) == 0 {
		return nil
	}
	return &c
}

// fitting says which of the watched signs are sent, as far as there is room: those that moved, then those that were measured, then the
// answers that stayed as they were.
func fitting(watched []watch.Watched) []bool {
	send, left := make([]bool, len(watched)), maxLooks
	for rank := range 3 {
		for i, w := range watched {
			n := len(w.Points) + len(w.Answers)
			if rankOf(w) == rank && w.To.After(w.From) && n <= left {
				send[i], left = true, left-n
			}
		}
	}
	return send
}

func rankOf(w watch.Watched) int {
	switch {
	case w.Moved():
		return 0
	case len(w.Points) > 0:
		return 1
	}
	return 2
}

// Shorter gives what is sent in less room, where there is something to leave out: first the answers that stayed as they were at every
// look, which are in the exam itself, then all of the course. The exam is worth more.
func (s Sent) Shorter() (Sent, bool) {
	if s.Course == nil {
		return s, false
	}
	watched := s.Watched()
	moving := slices.DeleteFunc(slices.Clone(watched), func(w watch.Watched) bool { return rankOf(w) == 2 })
	if s.Course = nil; len(moving) < len(watched) {
		s = s.With(moving)
	}
	return s, true
}

// watched gives the signs back. What this version's catalogue does not have is left out.
func (c *Course) watched(at time.Time) []watch.Watched {
	var out []watch.Watched
	places := make([]int, len(c.Of))
	look, value, graded, slope := 0, 0, 0, 0
	for i, name := range c.Of {
		id, site, _ := strings.Cut(name, "/")
		sign, known := vitals.Lookup(vitals.SignID(id))
		w := watch.Watched{Sign: vitals.SignID(id), Site: vitals.SiteID(site), Missing: c.Missing[i], Unit: sign.Unit}
		step := stepOf(w.Sign)
		measured := strings.IndexByte(wayLetters, c.Way[i]) >= 0
		for range c.Looks[i] {
			moment := at.Add(time.Duration(c.Minutes[look]) * time.Minute)
			look++
			if w.From.IsZero() || moment.Before(w.From) {
				w.From = moment
			}
			if moment.After(w.To) {
				w.To = moment
			}
			if measured {
				w.Points = append(w.Points, watch.WatchedPoint{At: moment, Minutes: moment.Sub(w.From).Minutes(),
					Measure: vitals.Measure{Value: middle(c.Values[value], step), SD: middle(c.SDs[value], step), Unit: sign.Unit}})
				value++
				continue
			}
			w.Answers = append(w.Answers, watch.WatchedAnswer{At: moment, Chosen: split(c.Chosen[graded])})
			graded++
		}
		if measured {
			w.Trend = ways[strings.IndexByte(wayLetters, c.Way[i])]
			if s := c.Slope[5*slope : 5*slope+5]; s[4] > 0 {
				fine := step * slopeStep
				w.Slope = &watch.Slope{PerHour: middle(s[0], fine), Low: middle(s[1], fine), High: middle(s[2], fine),
					WouldShow: middle(s[3], fine), EveryMinutes: s[4]}
			}
			slope++
		} else if j := strings.IndexByte(courseLetters, c.Way[i]); j >= 0 {
			w.Course = courses[j]
		}
		line(&w)
		places[i] = -1
		if known && sign.Kind.Measured() == measured {
			places[i] = len(out)
			out = append(out, w)
		}
	}
	for _, r := range c.Ranks {
		if p := places[r[0]]; p >= 0 {
			out[p].Robust = &watch.RobustSlope{PerHour: middle(r[1], stepOf(out[p].Sign)*slopeStep), P: float64(r[2]) / 1e6}
		}
	}
	for _, w := range c.Warnings {
		_, known := factsOf(w[1])
		if p := places[number(w[0])]; p >= 0 && known {
			out[p].Warnings = append(out[p].Warnings, baseline.Warning{Key: w[1], Args: slices.Clip(w[2:])})
		}
	}
	return out
}

// line lays the course through the middle of the readings: the fit itself did not travel.
func line(w *watch.Watched) {
	if w.Slope == nil {
		return
	}
	hours, mean := 0.0, 0.0
	for _, p := range w.Points {
		hours += p.Minutes / 60 / float64(len(w.Points))
		mean += p.Value / float64(len(w.Points))
	}
	for i := range w.Points {
		w.Points[i].Line = mean + w.Slope.PerHour*(w.Points[i].Minutes/60-hours)
	}
}

// check gives one fault for each column that does not fit the others.
func (c *Course) check() vitals.Faults {
	var faults vitals.Faults
	want := func(ok bool, path string) {
		if !ok {
			faults = append(faults, notOfExam(path))
		}
	}
	n := len(c.Of)
	want(n > 0 && n <= maxLooks, "/of")
	want(len(c.Looks) == n, "/looks")
	want(len(c.Missing) == n && !slices.ContainsFunc(c.Missing, func(n int) bool { return n < 0 }), "/missing")
	want(len(c.Way) == n && strings.Trim(c.Way, wayLetters+courseLetters+"-") == "", "/way")
	if len(faults) > 0 {
		return faults
	}
	looks, values, measured := 0, 0, 0
	for i, k := range c.Looks {
		if k < 1 || k > maxLooks {
			return append(faults, notOfExam("/looks"))
		}
		looks += k
		if strings.IndexByte(wayLetters, c.Way[i]) >= 0 {
			values += k
			measured++
		}
	}
	week := func(m int) bool { return m >= -10_080 && m <= 10_080 }
	want(len(c.Minutes) == looks && !slices.ContainsFunc(c.Minutes, func(m int) bool { return !week(m) }), "/minutes")
	want(len(c.Values) == values, "/values")
	want(len(c.SDs) == values, "/sds")
	want(len(c.Chosen) == looks-values, "/chosen")
	want(len(c.Slope) == 5*measured, "/slope")
	for i := 4; i < len(c.Slope); i += 5 {
		want(c.Slope[i] == 0 || c.Slope[i] == 10 || c.Slope[i] == 60, "/slope")
	}
	for i, r := range c.Ranks {
		want(len(r) == 3 && r[0] >= 0 && r[0] < n && r[2] >= 0 && r[2] <= 1_000_000, "/ranks/"+strconv.Itoa(i))
	}
	for i, w := range c.Warnings {
		ok := len(w) >= 2 && len(w)%2 == 0
		want(ok && number(w[0]) >= 0 && number(w[0]) < n && tellable(vitals.Sign{}, baseline.Warning{Key: w[1], Args: w[2:]}), "/warnings/"+strconv.Itoa(i))
	}
	if len(faults) == 0 {
		c.values(want)
	}
	return faults
}

// values asks for signs, places and answers that can be, and for figures that can be entered.
func (c *Course) values(want func(ok bool, path string)) {
	value, graded, slope := 0, 0, 0
	for i, name := range c.Of {
		id, site, placed := strings.Cut(name, "/")
		sign, known := vitals.Lookup(vitals.SignID(id))
		want(known || isName(id), "/of")
		want(!placed || canBe(sign, "site", site) || !known && isName(site), "/of")
		if strings.IndexByte(wayLetters, c.Way[i]) < 0 {
			for range c.Looks[i] {
				for _, g := range split(c.Chosen[graded]) {
					_, answer := sign.Grade(g)
					want(answer || !known, "/chosen")
				}
				graded++
			}
			continue
		}
		step := stepOf(sign.ID)
		for range c.Looks[i] {
			want(inSpan(sign, middle(c.Values[value], step)), "/values")
			want(c.SDs[value] >= 0 && (sign.Span == nil || middle(c.SDs[value], step) <= sign.Span.High.InexactFloat64()), "/sds")
			value++
		}
		// From end to end of the span within a minute is as steep as anything can be.
		for _, x := range c.Slope[5*slope : 5*slope+4] {
			want(sign.Span == nil || math.Abs(middle(x, step*slopeStep)) <= 60*sign.Span.High.InexactFloat64(), "/slope")
		}
		s := c.Slope[5*slope:]
		want(c.Way[i] != 'r' || s[4] > 0 && s[0] >= 0, "/slope")
		want(c.Way[i] != 'f' || s[4] > 0 && s[0] < 0, "/slope")
		slope++
	}
	for i, r := range c.Ranks {
		id, _, _ := strings.Cut(c.Of[r[0]], "/")
		sign, _ := vitals.Lookup(vitals.SignID(id))
		want(sign.Span == nil || math.Abs(middle(r[1], stepOf(sign.ID)*slopeStep)) <= 60*sign.Span.High.InexactFloat64(), "/ranks/"+strconv.Itoa(i))
	}
}
