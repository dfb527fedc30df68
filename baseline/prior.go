package baseline

import (
	"math"
	"time"

	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// span is where 95 of 100 single readings of well animals of one age are taken to lie, in the
// sign's unit, before the first exam of one of them. Ages between two are interpolated in the
// logarithm of the age.
type span struct {
	days      float64 // age
	low, high float64
}

// row is the span split into its parts, on the scale of the prior: the middle, the SD
// between animals, the SD of one animal from day to day, and by how much animals differ in it (the SD of its logarithm).
type row struct{ m0, tau, sigma0, omega float64 }

// prior is what is assumed of one sign in some animals, with where the numbers come from.
type prior struct {
	sign  vitals.SignID
	types []vitals.Type // empty: every type that has no entry of its own
	// log: compared on the logarithm, where ratios count (timed signs, breathing, weight).
	log    bool
	rhythm bool // a daily rhythm, amplitude and acrophase as rhythmPrior
	drift  bool // the level may wander over weeks
	// odd: an unlabelled sick day lies above.
	odd bool
	// grown: says nothing of an animal under three years.
	grown bool
	// own: nothing printed says what is usual, so nothing is compared before the first own exam.
	own bool
	// spans are at growing ages; the last stands for every older animal and for age unknown.
	spans []span
	// ratio is tau/sigma0; 0 for ratioUsual.
	ratio float64

	level vitals.Provenance // of the spans
}

const (
	// spanDays is the length of history that a sigma0 is the SD of; 30 because no study of
	// horses gives one.
	spanDays = 30
	// ratioUsual is the SD between animals over the SD of one animal from day to day.
	ratioUsual  = 2
	ratioWarmth = .86
	// inflation is how much more than sigma0^2 a reading varies within one animal of unknown sigma, at the
	// 95 % limits: found by trial, held by a test.
	inflation = 3.6

	rhythmAmplitude   = .25 // of the daily rhythm of temperature, degrees Celsius
	rhythmAmplitudeSD = .1
	rhythmFrom        = 16 // hours: the acrophase lies evenly in between
	rhythmTo          = 23
)

// spread is where the split of a span comes from.
func (p prior) spread() vitals.Provenance {
	switch {
	case p.ratio == ratioWarmth:
		return derived("the SD within one animal over the SD between animals, 0.242 over 0.207, is that of dogs (Zentralbl Veterinarmed A 1994), " +
			"the nearest animal with a figure; five mares of one barn gave 0.14 within, besides the daily rhythm; taken as possibly wrong twofold either way")
	case p.own:
		return assumed("only that one animal varies little beside the size of all; taken as possibly wrong twofold either way")
	}
	return assumed("no SD of horses from day to day was found: taken as half of the SD between animals " +
		"(repeated readings of people gave a third to four fifths), and as possibly wrong twofold either way")
}

// Where the daily rhythm comes from: how large it is, when its peak is, and which animals have it.
var (
	rhythmSize  = vitals.Provenance{Mark: vitals.Derived, Note: "amplitude 0.25: half of the daily range of 0.5 degrees Celsius of adult horses (Piccione, Caola, Refinetti, maturation of the daily body temperature rhythm); five mares read every two hours gave 0.21 to 0.26"}
	rhythmPeak  = vitals.Provenance{Mark: vitals.Derived, Note: "acrophase 16 to 23 h: 17 to 21 h from memory (Piccione group 2002), widened because the five mares peaked at 21.3 to 22.7 h"}
	rhythmNeeds = vitals.Provenance{Mark: vitals.Assumed, Note: "the same rhythm for ponies, donkeys and mules, and from one month of age; none before (it shows within 10 days and is full by one month, Piccione)"}

	rhythmPrior = []vitals.Provenance{rhythmSize, rhythmPeak, rhythmNeeds}
)

// rhythmDays is the age from which a daily rhythm is assumed.
const rhythmDays = 30

// grownDays is the age from which an animal counts as grown.
const grownDays = 3 * 365.25

// stale: an exam of a growing animal teaches while it was at least this share of its present age.
const stale = 2. / 3

const (
	edges       = "on each side halfway between the middle and the outermost of the printed edges"
	agesBetween = "; ages between the printed ones are interpolated"
)

func derived(note string) vitals.Provenance {
	return vitals.Provenance{Mark: vitals.Derived, Note: note}
}

func assumed(note string) vitals.Provenance {
	return vitals.Provenance{Mark: vitals.Assumed, Note: note}
}

// priors are looked through in order: the first entry of the sign that names the type, or
// else the one without types, holds.
var priors = []prior{
	// Heart rate, beats a minute.
	{
		sign: vitals.HeartRate, types: []vitals.Type{vitals.TypeDonkey}, drift: true, odd: true,
		spans: []span{{4, 78, 120}, {7, 78, 120}, {60, 46, 84}, {365, 42, 80}, {545, 42, 78}, {1095, 32, 58}},
		level: derived(edges + " of donkeys, of all ages that are printed" + agesBetween),
	},
	{
		sign: vitals.HeartRate, types: []vitals.Type{vitals.TypePony}, drift: true, odd: true,
		spans: append(youngHeart(), span{1460, 28, 52}),
		level: derived("40-48 often printed, from memory, widened by the printed ranges of horses; the young as horses (assumed)"),
	},
	{
		sign: vitals.HeartRate, types: []vitals.Type{vitals.TypeMule}, drift: true, odd: true,
		spans: append(youngHeart(), span{1460, 25, 48}),
		level: derived("as horses, a little higher for the donkey in them; measured means of herds 32-34 (Ali and Anjum 1998); the young as horses (assumed)"),
	},
	{
		sign: vitals.HeartRate, drift: true, odd: true,
		spans: append(youngHeart(), span{1460, 25, 47}),
		level: derived(edges + " of grown horses, 23-70 of one source left out above; wide enough for the measured means 30.8 and 32.9 with SD 2.6 and 4.2 (JVIM 2022)" + agesBetween + "; wider at birth, of whose first minutes only over 60 is printed"),
	},

	// Respiratory rate, on the log scale: the printed medians are the geometric middles of the printed ranges.
	{
		sign: vitals.RespiratoryRate, types: []vitals.Type{vitals.TypeDonkey}, log: true, drift: true, odd: true,
		spans: []span{{4, 18, 50}, {365, 16, 48}, {1095, 12.5, 37}},
		level: derived(edges + " of donkeys" + agesBetween + "; foals as the young (assumed)"),
	},
	{
		sign: vitals.RespiratoryRate, log: true, drift: true, odd: true,
		spans: []span{
			{.5, 30, 80}, {4, 20, 41}, {30, 20, 40}, {90, 20, 40}, {270, 10, 25}, {545, 10, 20}, {910, 10.5, 20}, {1095, 8, 21},
		},
		level: derived(edges + agesBetween),
	},

	// Rectal temperature, degrees Celsius, over the whole day.
	{
		sign: vitals.RectalTemperature, types: []vitals.Type{vitals.TypeDonkey}, rhythm: true, drift: true, odd: true,
		spans: []span{{4, 37.3, 38.7}, {180, 36.3, 38.9}, {545, 36.3, 38.9}, {1095, 36.3, 38.1}}, ratio: ratioWarmth,
		level: derived(edges + " of donkeys" + agesBetween),
	},
	{
		sign: vitals.RectalTemperature, rhythm: true, drift: true, odd: true,
		spans: []span{
			{.5, 37, 38.9}, {4, 37.2, 38.9}, {30, 38, 39.05}, {150, 38, 39.05}, {270, 37.3, 38.6},
			{545, 37.3, 38.6}, {910, 37.3, 38.6}, {1095, 36.6, 38.5},
		}, ratio: ratioWarmth,
		level: derived(edges + agesBetween),
	},

	// Timed signs, seconds, on the log scale.
	{
		sign: vitals.CapillaryRefill, log: true, drift: true, odd: true,
		spans: []span{{0, 1, 2.5}},
		level: derived(edges + ": 1-2 s, under 2 s, within 3 s"),
	},
	{
		sign: vitals.SkinTent, log: true, drift: true, odd: true,
		spans: []span{{0, .3, 3}},
		level: assumed("immediate to 3 s, two of the three scores that trained assessors used (Pritchard 2007); no reliable normal is published"),
	},
	{
		sign: vitals.JugularRefill, log: true, drift: true, odd: true,
		spans: []span{{0, 1, 8}},
		level: assumed("printed in words only: fills within several seconds (Penn Vet)"),
	},

	// Weight in kilograms, on the log scale, and body condition: of no use before the first own reading.
	{
		sign: vitals.Weight, log: true, drift: true, grown: true, own: true,
		spans: []span{{grownDays, 100, 1100}}, ratio: 20,
		level: assumed("wide enough for every size from a small donkey to a draft horse; one animal's weight varies by 3 % from day to day"),
	},
	{
		sign: vitals.BodyCondition, drift: true, own: true,
		spans: []span{{0, 3, 7}}, ratio: 3,
		level: assumed("the middle of the scale; one assessor differs from himself by a third of a point"),
	},
}

// youngHeart are the spans of the heart rate up to the two-year-old.
func youngHeart() []span {
	return []span{{.5, 58, 125}, {4, 79, 120}, {7, 79, 120}, {60, 60, 82}, {100, 58, 80}, {270, 43, 60}, {545, 40, 60}, {910, 38, 51}}
}

// priorOf gives the prior of a sign for a type of animal; ok is false for a sign of which
// nothing is assumed, and which is therefore noted and not compared.
func priorOf(sign vitals.SignID, t vitals.Type) (p prior, ok bool) {
	for _, p := range priors {
		if p.sign != sign {
			continue
		}
		if len(p.types) == 0 {
			return p, true
		}
		for _, x := range p.types {
			if x == t {
				return p, true
			}
		}
	}
	return prior{}, false
}

// at gives the parts at an age in days; a negative age is one not known.
func (p prior) at(days float64) row { return p.split(p.span(days)) }

// grownAge is an age, or -1 from where on the spans do not change.
func (p prior) grownAge(days float64) float64 {
	if days >= p.spans[len(p.spans)-1].days {
		return -1
	}
	return days
}

// span interpolates the spans at an age.
func (p prior) span(days float64) span {
	last := p.spans[len(p.spans)-1]
	if days < 0 || days >= last.days {
		return last
	}
	i := 0
	for days > p.spans[i].days {
		i++
	}
	if i == 0 {
		return p.spans[0]
	}
	a, b := p.spans[i-1], p.spans[i]
	f := (math.Log1p(days) - math.Log1p(a.days)) / (math.Log1p(b.days) - math.Log1p(a.days))
	return span{days, a.low + f*(b.low-a.low), a.high + f*(b.high-a.high)}
}

// split takes a span apart: its whole variance is tau^2 + inflation sigma0^2, besides what the
// hour of the day adds to readings of any hour.
func (p prior) split(s span) row {
	low, high := p.scaled(s.low), p.scaled(s.high)
	whole := (high - low) / (2 * 1.96)
	if p.rhythm {
		whole = math.Sqrt(whole*whole - rhythmAmplitude*rhythmAmplitude/2)
	}
	ratio := p.ratio
	if ratio == 0 {
		ratio = ratioUsual
	}
	sigma0 := whole / math.Sqrt(ratio*ratio+inflation)
	return row{m0: (low + high) / 2, tau: ratio * sigma0, sigma0: sigma0, omega: level.Omega}
}

// scale brings a measure onto the scale of the prior; ok is false where it has no place
// there (no breath counted on the log scale).
func (p prior) scale(m vitals.Measure) (y, sd float64, ok bool) {
	if p.log && m.Value <= 0 {
		return 0, 0, false
	}
	return p.scaled(m.Value), p.scaleSD(m.Value, m.SD), true
}

// scaled brings a value onto the scale.
func (p prior) scaled(x float64) float64 {
	if p.log {
		return math.Log(x)
	}
	return x
}

// scaleSD brings a standard uncertainty of a reading near value onto the scale.
func (p prior) scaleSD(value, sd float64) float64 {
	if !p.log {
		return sd
	}
	return math.Sqrt(math.Log1p(sd * sd / (value * value)))
}

// unscale takes a value of the scale back to the sign's unit.
func (p prior) unscale(y float64) float64 {
	if p.log {
		return math.Exp(y)
	}
	return y
}

// ageDays is the age at a time, or -1 where it is not known.
func ageDays(h vitals.Horse, at time.Time) float64 {
	if h.Born.IsZero() || h.DateDoubt(at) != vitals.DateSound {
		return -1
	}
	born := h.Born.In(at.Location())
	if h.BornYearOnly {
		born = born.AddDate(0, 6, 0) // as vitals.Horse.StageAt
	}
	return max(0, at.Sub(born).Hours()/24)
}

// sameAge reports whether an exam at age then says anything of the animal at age now:
// both grown (or of unknown age), or then at least two thirds of now. Assumed: the figures
// of the young halve within months, and the prior only moves their middle.
func sameAge(then, now float64) bool {
	if then < 0 || now < 0 || then >= grownDays && now >= grownDays {
		return true
	}
	lo, hi := min(then, now), max(then, now)
	return lo >= stale*hi
}

// walk is how fast the level of the sign walks: not at all where it does not wander.
func (p prior) walk() float64 {
	if p.drift {
		return level.Walk
	}
	return 0
}
