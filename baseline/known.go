package baseline

import (
	"math"
	"time"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// Known says how well a horse's own normal is known at a time, for the barn's list.
type Known struct {
	// Exams is how many exams teach, LastAt the newest of them.
	Exams  int       `json:"exams"`
	LastAt time.Time `json:"lastAt,omitzero"`
	// Signs are the measured signs that have an interval, in the catalogue's order; a sign with a
	// normal for each site is listed for the sites that were measured.
	Signs   []KnownSign `json:"signs,omitempty"`
	Lessons []Lesson    `json:"lessons,omitempty"`
}

// KnownSign is how well one measured sign is known: widths of the interval of 95 of 100
// readings on a well day, taken in the most precise way, in the sign's unit.
type KnownSign struct {
	Sign vitals.SignID `json:"sign"`
	Site vitals.SiteID `json:"site,omitempty"`
	// Exams is how many own exams measured it.
	Exams int      `json:"exams"`
	Own   Interval `json:"own"`
	// Before is the width before the first exam, Now the present one, and Attainable the width
	// if the horse's own level were known exactly.
	Before     float64 `json:"before"`
	Now        float64 `json:"now"`
	Attainable float64 `json:"attainable"`
	// Doubt is how far the horse's own level may lie from where it is thought to be (95 of
	// 100), in the sign's unit; AfterTwo what is left of it after two more quiet exams.
	Doubt    float64 `json:"doubt"`
	AfterTwo float64 `json:"afterTwo"`
}

// Halved reports whether two more quiet exams would halve the doubt.
func (k KnownSign) Halved() bool { return k.AfterTwo <= k.Doubt/2 }

// precise is the standard uncertainty of the most precise common way, in the sign's unit:
// a count over a minute, three tries, a digital thermometer.
func precise(sign vitals.SignID) float64 {
	switch sign {
	case vitals.HeartRate, vitals.RespiratoryRate:
		return .45
	case vitals.RectalTemperature, vitals.CapillaryRefill, vitals.SkinTent, vitals.JugularRefill:
		return .1
	case vitals.Weight:
		return 5
	}
	return .3 // half points of body condition
}

// Known says how well the horse's own normal is known at a time.
func (b *Baseline) Known(at time.Time) Known {
	exams, lessons := b.trainingAt(at, "")
	k := Known{Exams: len(exams.summaries), Lessons: lessons}
	if n := len(exams.summaries); n > 0 {
		k.LastAt = exams.summaries[n-1].at
	}
	for _, sign := range catalogue.Signs() {
		p, ok := priorOf(sign.ID, b.horse.Type)
		if !ok || p.grown && growing(b.horse, at) {
			continue
		}
		for _, site := range sites(sign) {
			s := b.history(sign, site, p, at, exams)
			if len(s.points) == s.before && (p.own || sign.PerSite) {
				continue
			}
			k.Signs = append(k.Signs, s.known(at))
		}
	}
	return k
}

// sites are those that have a normal each; "" for a sign that has one for all.
func sites(sign vitals.Sign) []vitals.SiteID {
	if !sign.PerSite {
		return []vitals.SiteID{""}
	}
	out := make([]vitals.SiteID, len(sign.Sites))
	for i, s := range sign.Sites {
		out[i] = s.ID
	}
	return out
}

// known works the widths out by asking the model itself.
func (s *series) known(at time.Time) KnownSign {
	k := KnownSign{Sign: s.sign.ID, Site: s.site, Exams: s.visits()}
	sd := s.preciseSD()
	set := s.setting(at)
	width := func(l *level.Model) float64 {
		i := s.interval(l.Predict(day(at), hour(at), sd))
		return i.High - i.Low
	}
	now := s.fit(at)
	k.Own = *s.interval(now.Predict(day(at), hour(at), sd))
	k.Now = width(now)
	set.BadDays = false
	k.Before = width(level.Fit(set, nil))

	// The doubt is that of the plain model: bad days in the history are another matter.
	known := s.plain(at)
	plain := known.Belief()
	mid := s.prior.scaled(k.Own.Mid)
	inUnit := func(half float64) float64 { return s.prior.unscale(mid+half) - s.prior.unscale(mid) }
	k.Attainable = min(k.Now, 2*inUnit(1.96*math.Hypot(plain.SpanSigma, sd)))
	k.Doubt = inUnit(1.96 * plain.MuSD)

	// Two more readings a week apart, where they are expected and as far apart as two
	// readings of this horse usually lie: two in one place would say that it never varies.
	more := known.Clone()
	for i, y := range []float64{mid - plain.SpanSigma/math.Sqrt2, mid + plain.SpanSigma/math.Sqrt2} {
		more.Learn(level.Reading{Day: day(at) + float64(i)*7, Hour: hour(at), Y: y, SD: sd, Way: 1})
	}
	k.AfterTwo = inUnit(1.96 * more.Belief().MuSD)
	return k
}

// preciseSD is the standard uncertainty of the most precise common way, on the prior's scale.
func (s *series) preciseSD() float64 {
	return s.prior.scaleSD(s.prior.unscale(s.row.m0), precise(s.sign.ID))
}
