package baseline

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"whorl.example/baseline/internal/level"
	"whorl.example/baseline/internal/normal"
	"whorl.example/vitals"
)

// Who measured, and with what. Of a temperature that is the thermometer, of what somebody counts or times the person.

const (
	// betweenThermometers is the SD of what thermometers of one barn add to the same temperature, in degrees Celsius.
	betweenThermometers = .15
	// betweenCounters and betweenTimers are those of people who count breaths, and who time a sign, of the logarithm.
	betweenCounters = .05
	betweenTimers   = .15
)

// byWhom counts the readings of a series by who took them, or with which thermometer.
type byWhom struct {
	keys   []string // by how often, the most frequent first
	people []string // who examined, where it is told of every reading
}

// between is the SD of what another person or thermometer adds, on the prior's scale; 0 for a heart rate, which everybody
// is taken to count alike.
func between(sign vitals.SignID) float64 {
	switch sign {
	case vitals.RectalTemperature:
		return betweenThermometers
	case vitals.RespiratoryRate:
		return betweenCounters
	case vitals.CapillaryRefill, vitals.SkinTent, vitals.JugularRefill:
		return betweenTimers
	}
	return 0
}

// takenBy is the thermometer of a temperature, and of another sign the person.
func takenBy(sign *vitals.Sign, reading *vitals.Reading, by string) string {
	if sign.Kind != vitals.KindTemperature {
		return by
	}
	if reading == nil {
		return ""
	}
	return string(reading.Device) + "\x00" + strings.TrimSpace(reading.Label)
}

// tell takes in who examined, if all of them are told.
func (b *byWhom) tell(people []string) {
	if slices.Contains(people, "") {
		return
	}
	for _, p := range people {
		if !slices.Contains(b.people, p) {
			b.people = append(b.people, p)
		}
	}
}

// countWays gives each reading its way; keys are beside the points. Where it is not told, it is taken for the most frequent one.
func (s *series) countWays(keys, people []string) {
	s.by.tell(people)
	if between(s.sign.ID) == 0 {
		return
	}
	var times map[string]int
	for i, k := range keys {
		switch {
		case k == "" || i > 0 && k == keys[i-1] && times == nil: // as nearly all are
		case len(s.by.keys) == 0:
			s.by.keys = append(s.by.keys, k)
		case times == nil:
			times = make(map[string]int)
		}
	}
	if times != nil {
		s.by.keys = s.by.keys[:0]
		for _, k := range keys {
			if times[k]++; times[k] == 1 && k != "" {
				s.by.keys = append(s.by.keys, k)
			}
		}
		slices.SortFunc(s.by.keys, func(a, b string) int { return cmp.Or(cmp.Compare(times[b], times[a]), cmp.Compare(a, b)) })
	}
	for i, k := range keys {
		s.points[i].Way = s.by.way(k)
	}
}

// way is the way of a reading, 0 of one that has no offset of its own.
func (b *byWhom) way(key string) uint8 {
	if key == "" {
		return 1
	}
	if i := slices.Index(b.keys, key); i < level.WaysMost {
		return uint8(i + 1)
	}
	return 0
}

// several is the setting where readings were taken in several ways, or the next one is in another than all of them.
func (s *series) several(set level.Setting, another bool) level.Setting {
	if n := len(s.by.keys); n > 1 || another && n == 1 {
		set.Ways, set.Offset = min(n, level.WaysMost), between(s.sign.ID)
	}
	return set
}

// reading is a finding as the model takes it.
func (s *series) reading(f *vitals.Finding, exam *vitals.Exam, y, sd float64) level.Reading {
	at := exam.At.Add(time.Duration(f.Minutes) * time.Minute)
	key := takenBy(&s.sign, f.Reading, strings.TrimSpace(exam.By))
	return level.Reading{Day: day(at), Hour: hour(at), Y: y, SD: sd, ID: "~", Way: s.by.way(key)}
}

// fitFor is the model for a reading that may be by another person or thermometer than all the others.
func (s *series) fitFor(next level.Reading, at time.Time) *level.Model {
	return s.fitOf(s.several(s.setting(at), next.Way == 0))
}

// predictBy says what a reading would be, and whether this one would be unusual had it been taken as most of the others were.
func (s *series) predictBy(usual *normal.Mixture, own *level.Model, next level.Reading, at time.Time) (without bool) {
	if next.Way == 0 && len(s.by.keys) > 0 {
		own.PredictInto(usual, next.Day, next.Hour, next.SD)
		p, _, _ := usual.Rarity(next.Y)
		without, own = p < alpha, s.fitFor(next, at)
	}
	own.PredictBy(usual, next)
	return without
}

// someoneElse reports whether a finding was counted, timed or looked at by somebody who did none of the others, as far as that is told of all of them.
func someoneElse(f *vitals.Finding, exam *vitals.Exam, people []string) bool {
	by := strings.TrimSpace(exam.By)
	return f.Reading == nil && by != "" && len(people) > 0 && !slices.Contains(people, by)
}
