package baseline

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/baseline/internal/fingerprint"
	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// Codes of the faults of a herd.
const (
	// FaultStaleHerd: sums were made by other rules. They are to be made anew from the exams.
	FaultStaleHerd vitals.FaultCode = "stale-herd"
	// FaultBadHerd: the bytes are no sums of a herd, or sums that cannot be.
	FaultBadHerd vitals.FaultCode = "bad-herd"
)

// HerdLeast is how many horses a sum is of that is shown, sent or used: fewer would tell of one of them.
const HerdLeast = 5

// Herd is what the horses of a yard or of a clinic's round teach together of where a sign lies and how much it varies before the first exam of the next
// one. What is assumed of horses ([AssumedSpans]) rests on printed ranges, and how much one horse varies from day to day on nothing; thirty
// horses of one's own say it better.
//
// It holds no exams, names or dates: of each sign and type of animal how many horses there are and sums of integers. Horses may be added and herds merged in any
// order, and the same horses give the same bytes. A single horse's share ([Baseline.Share]) is nearly its mean, its variation and how often
// it was examined, and is to be treated as its record.
//
// The zero Herd is empty and ready for use.
type Herd struct{ tables []herdTable } // in their order

type herdTable struct {
	typ    vitals.Type
	sign   vitals.SignID
	horses int
	sums   []int64 // at the points of level.Evidence
}

func (t *herdTable) compare(o *herdTable) int {
	return cmp.Or(strings.Compare(string(t.typ), string(o.typ)), strings.Compare(string(t.sign), string(o.sign)))
}

// Share is what the quiet exams of one horse say, as a herd of one horse: of those signs that it has readings of. It is empty for an
// animal that is still growing. The exams before a time teach, as in a comparison; readings that are probably of a bad day do not.
func (b *Baseline) Share(at time.Time) *Herd {
	h := new(Herd)
	if growing(b.horse, at) {
		return h
	}
	taught, _ := b.trainingAt(at, "")
	for _, sign := range catalogue.Signs() {
		p, ok := priorOf(sign.ID, b.horse.Type)
		if !ok || p.own || sign.PerSite {
			continue
		}
		s := b.history(sign, "", p, at, taught)
		if len(s.points) == s.before {
			continue
		}
		own := s.fit(at)
		odd := own.BadDayProbabilities()[s.before:]
		var points []level.Reading
		for i, r := range s.alike(own.Setting, own) {
			if odd[i] <= .5 {
				r.NewLevel = false
				points = append(points, r)
			}
		}
		row := p.at(-1) // what ships, whatever was learned
		t := herdTable{b.horse.Type, sign.ID, 1, make([]int64, level.EvidencePoints)}
		for i, e := range level.Evidence(row.setting(p), points) {
			t.sums[i] = int64(e)
		}
		h.put(&t, 1)
	}
	return h
}

// setting is what of it a herd is about.
func (r row) setting(p prior) level.Setting {
	return level.Setting{M0: r.m0, Tau: r.tau, Sigma0: r.sigma0, Omega: r.omega, SpanDays: spanDays, Drift: p.drift}
}

// put adds a table so many times.
func (h *Herd) put(t *herdTable, times int) {
	i, ok := slices.BinarySearchFunc(h.tables, t, func(a herdTable, b *herdTable) int { return a.compare(b) })
	if !ok {
		h.tables = slices.Insert(h.tables, i, herdTable{t.typ, t.sign, 0, make([]int64, level.EvidencePoints)})
	}
	to := &h.tables[i]
	to.horses += times * t.horses
	for k, s := range t.sums {
		to.sums[k] += int64(times) * s
	}
	if to.horses == 0 {
		h.tables = slices.Delete(h.tables, i, i+1)
	}
}

// Merge adds the horses of another herd: a share, or another yard. The order changes nothing.
func (h *Herd) Merge(other *Herd) {
	for i := range other.tables {
		h.put(&other.tables[i], 1)
	}
}

// Without takes horses out that were merged before: the horse that the herd is to say something of, or one whose share has
// changed and is merged anew. It reports false, and changes nothing, if they cannot have been in it.
func (h *Herd) Without(other *Herd) bool {
	for i := range other.tables {
		t := &other.tables[i]
		if h.horses(t.typ, t.sign) < t.horses {
			return false
		}
	}
	for i := range other.tables {
		h.put(&other.tables[i], -1)
	}
	return true
}

func (h *Herd) horses(typ vitals.Type, sign vitals.SignID) int {
	for i := range h.tables {
		if t := &h.tables[i]; t.typ == typ && t.sign == sign {
			return t.horses
		}
	}
	return 0
}

// Clone gives a herd that changes apart.
func (h *Herd) Clone() *Herd {
	c := new(Herd)
	c.Merge(h)
	return c
}

// HerdSign is what a herd says of one sign of one type of grown animal.
type HerdSign struct {
	Type   vitals.Type   `json:"type"`
	Sign   vitals.SignID `json:"sign"`
	Horses int           `json:"horses"`
	// Low to High is where 95 of 100 first readings are taken to lie, in the sign's unit; Shipped the same without the herd, at any hour.
	Low     float64  `json:"low"`
	High    float64  `json:"high"`
	Shipped Interval `json:"shipped"`
}

// Signs lists what a herd says of signs of which it has [HerdLeast] horses or more.
func (h *Herd) Signs() []HerdSign {
	var out []HerdSign
	for i := range h.tables {
		t := &h.tables[i]
		p, ok := priorOf(t.sign, t.typ)
		if !ok || t.horses < HerdLeast {
			continue
		}
		interval := func(r row) Interval {
			lo, hi := level.Fit(r.setting(p), nil).Predict(0, 0, 0).Limits(1 - alpha)
			return Interval{p.unscale(lo), p.unscale(r.m0), p.unscale(hi)}
		}
		shipped := p.at(-1)
		now := interval(t.change(p).of(shipped))
		out = append(out, HerdSign{t.typ, t.sign, t.horses, now.Low, now.High, interval(shipped)})
	}
	return out
}

// learnedRow is how a herd changes a row: how far the middle lies in Taus, factors of tau and sigma0, and omega.
type learnedRow struct {
	sign                       vitals.SignID
	horses                     int
	middle, tau, sigma0, omega float64
}

func (t *herdTable) change(p prior) learnedRow {
	r := p.at(-1)
	set := level.FromEvidence(r.setting(p), t.sums)
	return learnedRow{t.sign, t.horses, (set.M0 - r.m0) / r.tau, set.Tau / r.tau, set.Sigma0 / r.sigma0, set.Omega}
}

func (l learnedRow) of(r row) row {
	return row{r.m0 + l.middle*r.tau, r.tau * l.tau, r.sigma0 * l.sigma0, l.omega}
}

// provenance is where such a row comes from.
func (l learnedRow) provenance() vitals.Provenance {
	return derived("learned from " + itoa(l.horses) + " horses of this yard")
}

// Option is how a baseline is made otherwise than as a rule.
type Option func(*Baseline)

// LearnedFrom starts from what a herd says in the place of what ships, for the signs of which it has [HerdLeast] horses of the animal's type or more, once it is
// grown; what an interval rests on then says so ([Basis]). The herd is read once; of none, nothing is learned. The horse itself should not be in it ([Herd.Without]): it would count twice.
func LearnedFrom(h *Herd) Option {
	return func(b *Baseline) {
		if h == nil {
			return
		}
		for i := range h.tables {
			t := &h.tables[i]
			if p, ok := priorOf(t.sign, t.typ); ok && t.typ == b.horse.Type && t.horses >= HerdLeast {
				b.herd = append(b.herd, t.change(p))
			}
		}
	}
}

// rowAt is what is assumed of a sign at an age, and where it comes from.
func (b *Baseline) rowAt(p prior, age float64) (row, []vitals.Provenance) {
	r, from := p.at(age), p.provenance()
	if age >= 0 && age < grownDays {
		return r, from
	}
	for _, l := range b.herd {
		if l.sign == p.sign {
			return l.of(r), append([]vitals.Provenance{l.provenance()}, from[2:]...)
		}
	}
	return r, from
}

// herdRules is the fingerprint of what sums are about: of other rules they cannot be added.
func herdRules(typ vitals.Type, sign vitals.SignID) (p fingerprint.Hash, ok bool) {
	q, ok := priorOf(sign, typ)
	if !ok || q.own {
		return p, false
	}
	r := q.at(-1)
	p.Int(fitRule)
	p.Text(string(typ))
	p.Text(string(sign))
	p.Floats(r.m0, r.tau, r.sigma0, r.omega, spanDays, between(sign))
	p.Ints(level.EvidencePoints, level.EvidenceUnit)
	for _, b := range level.Drifts(q.drift) {
		p.Floats(b.Share, b.Days, b.Weight)
	}
	return p, true
}

// HerdTable is a herd's sums of one sign of one type of animal, to be written down; package whorl.example/schema/herd has their JSON form.
type HerdTable struct {
	Rules  string        `json:"rules"` // by which the sums were made
	Type   vitals.Type   `json:"type"`
	Sign   vitals.SignID `json:"sign"`
	Horses int           `json:"horses"`
	Sums   []int64       `json:"sums"`
}

// Tables gives what may leave a yard: the sums of [HerdLeast] horses or more, the caller's own copy. The same horses give the same tables. Two
// files of one yard that differ by one horse tell of that horse whoever has both.
func (h *Herd) Tables() []HerdTable { return h.ofAtLeast(HerdLeast) }

// AllTables gives all of it, for a sum that is still being made, by a combine step or on one's own device: it may tell of a single horse and is to be
// treated as its record.
func (h *Herd) AllTables() []HerdTable { return h.ofAtLeast(1) }

func (h *Herd) ofAtLeast(least int) []HerdTable {
	out := []HerdTable{}
	for i := range h.tables {
		t := &h.tables[i]
		if rules, ok := herdRules(t.typ, t.sign); ok && t.horses >= least {
			out = append(out, HerdTable{rulesText(rules), t.typ, t.sign, t.horses, slices.Clone(t.sums)})
		}
	}
	return out
}

func rulesText(p [2]uint64) string {
	text := strconv.FormatUint(p[0], 16)
	return "0000000000000000"[len(text):] + text
}

// HerdOf gives the herd of tables of [Herd.Tables] or [Herd.AllTables]. The error is a [vitals.Faults]: [FaultBadHerd], or [FaultStaleHerd]
// where sums were made by other rules, at the table's place.
func HerdOf(tables []HerdTable) (*Herd, error) {
	h := new(Herd)
	for i, x := range tables {
		path := "/herd/" + itoa(i)
		rules, ok := herdRules(x.Type, x.Sign)
		if !ok || !slices.Contains(vitals.Types(), x.Type) || x.Horses < 1 || x.Horses > mostHorses || len(x.Sums) != level.EvidencePoints || h.horses(x.Type, x.Sign) > 0 {
			return nil, fault(FaultBadHerd, path)
		}
		if x.Rules != rulesText(rules) {
			return nil, fault(FaultStaleHerd, path)
		}
		for _, s := range x.Sums {
			if s > int64(x.Horses)*level.EvidenceMost || s < -int64(x.Horses)*level.EvidenceMost {
				return nil, fault(FaultBadHerd, path)
			}
		}
		h.put(&herdTable{x.Type, x.Sign, x.Horses, slices.Clone(x.Sums)}, 1)
	}
	return h, nil
}

// mostHorses of a sum; of a thousand such sums the integers still hold.
const mostHorses = 1_000_000
