package vitals

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// NewUsual is a person's answer to the question whether what a measured sign of the horse has
// been lately is its usual from here on. It is part of the record: nothing decides
// it but a person, and it can be taken back.
type NewUsual struct {
	Sign SignID `json:"sign"`
	// Site is of a sign with a usual for each site.
	Site SiteID `json:"site,omitempty"`
	// From is the first reading that counts as the new usual.
	From time.Time `json:"from"`
	// Said is when it was answered, not before From.
	Said time.Time `json:"said"`
	// By is who answered.
	By string `json:"by,omitempty"`
	// Not: the answer was that it is not the new usual, or that nobody knows. Then nothing
	// changes, and of the readings until Said it is not asked again.
	Not bool `json:"not,omitempty"`
	// Back: the answer was taken back. It stays in the record, so that another telephone
	// that still has it does not bring it back; whoever changes his mind answers anew.
	Back bool `json:"back,omitempty"`
}

// Holds reports whether the answer stands and says that the usual is new.
func (u NewUsual) Holds() bool { return !u.Not && !u.Back }

// UsualFrom gives the answer that holds for a sign (at a site, "" for a sign with one usual for all)
// at a time: of those from before it, the one that counts from the latest reading on. ok is false
// where there is none.
func (h Horse) UsualFrom(sign SignID, site SiteID, at time.Time) (from NewUsual, ok bool) {
	for _, u := range h.NewUsual {
		if u.Sign == sign && u.Site == site && u.Holds() && !u.From.After(at) && (!ok || u.From.After(from.From)) {
			from, ok = u, true
		}
	}
	return from, ok
}

// MergeNewUsual puts the answers of two telephones together, without doubles and in the order in
// which they were given. An answer taken back on one of them is taken back. The order of merging changes
// nothing.
func MergeNewUsual(a, b []NewUsual) []NewUsual {
	var out []NewUsual
	for _, list := range [][]NewUsual{a, b} {
		for _, u := range list {
			out = insertUsual(out, u)
		}
	}
	return out
}

// insertUsual puts an answer in its place. It inserts rather than sorts: the lists are short,
// and a sort of a type costs the browser 10 kB.
func insertUsual(list []NewUsual, u NewUsual) []NewUsual {
	i := 0
	for i < len(list) && list[i].compare(u) < 0 {
		i++
	}
	if i == len(list) || list[i].compare(u) > 0 {
		return slices.Insert(list, i, u)
	}
	back := u.Back || list[i].Back
	if list[i].offsets(u) > 0 { // the same moments, told on two clocks: one of them, whatever the order
		list[i] = u
	}
	list[i].Back = back
	return list
}

// compare orders answers by all but Back and the offsets of their times.
func (u NewUsual) compare(v NewUsual) int {
	not := 0
	if u.Not != v.Not {
		if not = 1; v.Not {
			not = -1
		}
	}
	return cmp.Or(u.Said.Compare(v.Said), u.From.Compare(v.From), strings.Compare(string(u.Sign), string(v.Sign)),
		strings.Compare(string(u.Site), string(v.Site)), strings.Compare(u.By, v.By), not)
}

// offsets orders answers that differ in the offsets of their times alone.
func (u NewUsual) offsets(v NewUsual) int {
	_, a := u.Said.Zone()
	_, b := v.Said.Zone()
	_, c := u.From.Zone()
	_, d := v.From.Zone()
	return cmp.Or(cmp.Compare(a, b), cmp.Compare(c, d))
}

// newUsual checks the answers of a horse.
func (c *check) newUsual(h Horse) {
	for i, u := range h.NewUsual {
		at := "/newUsual/" + strconv.Itoa(i)
		sign, known := Lookup(u.Sign)
		switch {
		case !known:
			c.add(FaultUnknownSign, at+"/sign", "sign", string(u.Sign))
		case !sign.Kind.Measured():
			c.add(FaultWrongKind, at+"/sign")
		case sign.PerSite && u.Site == "":
			c.add(FaultSiteMissing, at+"/site")
		case u.Site != "":
			if _, ok := sign.Site(u.Site); !ok || !sign.PerSite {
				c.add(FaultUnknownSite, at+"/site", "site", string(u.Site))
			}
		}
		for _, m := range []struct {
			name string
			at   time.Time
		}{{"/from", u.From}, {"/said", u.Said}} {
			c.moment(at+m.name, m.at)
		}
		if u.Said.Before(u.From) {
			c.add(FaultSaidBefore, at+"/said")
		}
		c.line(at+"/by", u.By, false)
	}
}
