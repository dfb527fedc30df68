package schema

import (
	"bytes"
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"

	"whorl.example/vitals"
)

// BadConflict: another version that is not of one horse or exam of the file.
const BadConflict vitals.FaultCode = "bad-conflict"

// Conflict is another version of a horse or of an exam of the file: two devices wrote
// under one id, and nothing says which is right. It stays until a person has looked.
type Conflict struct {
	// Exactly one of Horse and Exam.
	Horse *vitals.Horse `json:"horse,omitempty"`
	Exam  *vitals.Exam  `json:"exam,omitempty"`
	// Aside: a person chose another version. The mark travels; the version is kept.
	Aside bool `json:"aside,omitempty"`
}

// Merge puts two barn files together, as after an exchange between two telephones. The
// result holds every horse and exam of both. The order of merging changes nothing, nor
// does merging the same file again: the bytes of [Encode] are the same.
//
// Where the same id has two contents, both stay: the one that is shown is chosen by rule
// (not set aside, finished, more findings, later, then the bytes of its canonical form),
// the other becomes a [Conflict]. A draft whose every entry stands in another version is an earlier
// state of that one and is let go. A horse that either file has is there, whatever the other says of it: the mark of
// a horse that was deleted stays where neither has it, and what is to become of its records, should they
// come from elsewhere, is asked where they come in. The file has no time of editing by which the later one
// could win, and a clock that is wrong on one telephone would lose what was written on the other.
//
// fresh are the conflicts that neither file had. The error is the [vitals.Faults] of a
// file that cannot be written.
func Merge(a, b File) (merged File, fresh []Conflict, err error) {
	var m merger
	for _, f := range []File{a, b} {
		if err := m.add(f); err != nil {
			return File{}, nil, err
		}
	}
	merged = m.file()
	for _, c := range merged.Conflicts {
		key, err := c.key()
		if err != nil {
			return File{}, nil, err
		}
		if !c.Aside && !m.known[key] {
			fresh = append(fresh, c)
		}
	}
	return merged, fresh, nil
}

// version is one content under an id.
type version struct {
	Conflict
	text    []byte
	entries func() map[place]entry // of an exam
}

func (c Conflict) id() string {
	if c.Horse != nil {
		return "h" + string(c.Horse.ID)
	}
	return "e" + string(c.Exam.ID)
}

// key is the content with its kind. The answers to "is this the new usual?" and what is remembered
// of a call are left out: they are put together, never set against each other.
func (c Conflict) key() (string, error) {
	c.Aside = false
	if c.Horse != nil {
		horse := *c.Horse
		horse.NewUsual = nil
		c.Horse = &horse
	} else if c.Exam != nil {
		exam := *c.Exam
		exam.Call = nil
		c.Exam = &exam
	}
	text, err := Marshal(c)
	return string(text), err
}

// merger gathers the versions by id.
type merger struct {
	versions map[string][]version
	usual    map[vitals.ID][]vitals.NewUsual
	calls    map[vitals.ID]*vitals.Call
	known    map[string]bool // contents that one of the files had as conflicts
	gone     map[vitals.ID]Gone
	unread   map[Unread]bool
	unknown  []vitals.Unknown
	minor    int
}

func (m *merger) add(f File) error {
	if m.versions == nil {
		m.versions = map[string][]version{}
		m.usual = map[vitals.ID][]vitals.NewUsual{}
		m.calls = map[vitals.ID]*vitals.Call{}
		m.known = map[string]bool{}
		m.gone = map[vitals.ID]Gone{}
		m.unread = map[Unread]bool{}
	}
	for _, g := range f.Gone {
		m.gone[g.ID] = Gone{g.ID, max(g.Name, m.gone[g.ID].Name)}
	}
	for _, u := range f.Unread {
		m.unread[u] = true
	}
	m.minor = max(m.minor, f.Minor)
	for _, u := range f.Unknown {
		if !slices.Contains(m.unknown, u) {
			m.unknown = append(m.unknown, u)
		}
	}
	all := slices.Clone(f.Conflicts)
	for _, c := range f.Conflicts {
		key, err := c.key()
		if err != nil {
			return err
		}
		m.known[key] = true
	}
	for i := range f.Horses {
		all = append(all, Conflict{Horse: &f.Horses[i]})
	}
	for i := range f.Exams {
		all = append(all, Conflict{Exam: &f.Exams[i]})
	}
	for _, c := range all {
		if (c.Horse == nil) == (c.Exam == nil) {
			return vitals.Faults{fault(BadConflict, "/conflicts")}
		}
		key, err := c.key()
		if err != nil {
			return err
		}
		if h := c.Horse; h != nil && len(h.NewUsual) > 0 {
			m.usual[h.ID] = vitals.MergeNewUsual(m.usual[h.ID], h.NewUsual)
			if len(m.usual[h.ID]) > MaxAnswers {
				return vitals.Faults{fault(TooMany, "/horses", "most", strconv.Itoa(MaxAnswers))}
			}
		}
		v := version{Conflict: c, text: []byte(key)}
		if c.Exam != nil {
			m.calls[c.Exam.ID] = vitals.MergeCall(m.calls[c.Exam.ID], c.Exam.Call)
			v.entries = sync.OnceValue(func() map[place]entry { return entries(*c.Exam) })
		}
		m.put(v)
	}
	return nil
}

// put adds a version unless it is there or is the earlier state of one that is. The
// versions that remain are the greatest of all that were put, whatever the order.
func (m *merger) put(v version) {
	id := v.id()
	list := m.versions[id]
	for i := range list {
		if bytes.Equal(list[i].text, v.text) {
			list[i].Aside = list[i].Aside || v.Aside
			return
		}
		if v.earlier(list[i]) {
			return
		}
	}
	list = slices.DeleteFunc(list, func(o version) bool { return o.earlier(v) })
	m.versions[id] = append(list, v)
}

// file writes the versions as a file.
func (m *merger) file() File {
	f := File{Kind: Kind, Format: Format, Minor: m.minor}
	f.Unknown = sorted(m.unknown, func(a, b vitals.Unknown) int { return strings.Compare(a.At+string(a.JSON), b.At+string(b.JSON)) })
	var others []version
	for _, list := range m.versions {
		list = sorted(list, func(a, b version) int { return b.compare(a) })
		for i, v := range list {
			if v.Horse != nil {
				horse := *v.Horse
				horse.NewUsual = m.usual[horse.ID]
				list[i].Horse = &horse
			} else {
				exam := *v.Exam
				exam.Call = m.calls[exam.ID]
				list[i].Exam = &exam
			}
		}
		if first := list[0]; first.Horse != nil {
			f.Horses = append(f.Horses, *first.Horse)
		} else {
			f.Exams = append(f.Exams, *first.Exam)
		}
		if !list[0].Aside { // all were set aside: the mark of the one shown must not be lost
			list = list[1:]
		}
		others = append(others, list...)
	}
	for _, h := range f.Horses {
		delete(m.gone, h.ID)
	}
	f.Gone = sorted(slices.Collect(maps.Values(m.gone)), func(a, b Gone) int { return cmp.Compare(a.ID, b.ID) })
	f.Unread = sorted(slices.Collect(maps.Keys(m.unread)), func(a, b Unread) int {
		return cmp.Or(cmp.Compare(a.Of, b.Of), cmp.Compare(a.Text, b.Text))
	})
	f.Horses = sorted(f.Horses, func(a, b vitals.Horse) int {
		return cmp.Or(strings.Compare(a.Name, b.Name), strings.Compare(string(a.ID), string(b.ID)))
	})
	f.Exams = sorted(f.Exams, func(a, b vitals.Exam) int {
		return cmp.Or(a.At.Compare(b.At), strings.Compare(string(a.ID), string(b.ID)))
	})
	for _, v := range sorted(others, func(a, b version) int {
		return cmp.Or(strings.Compare(a.id(), b.id()), bytes.Compare(a.text, b.text))
	}) {
		f.Conflicts = append(f.Conflicts, v.Conflict)
	}
	return f
}

// sorted sorts by place, so that the browser carries one sort and not one for each type
// (some 10 kB each).
func sorted[T any](list []T, compare func(a, b T) int) []T {
	places := make([]int, len(list))
	for i := range places {
		places[i] = i
	}
	slices.SortStableFunc(places, func(i, j int) int { return compare(list[i], list[j]) })
	var out []T
	for _, i := range places {
		out = append(out, list[i])
	}
	return out
}

// compare is above zero where v is shown rather than o.
func (v version) compare(o version) int {
	c := -order(v.Aside, o.Aside)
	if v.Exam != nil {
		c = cmp.Or(c,
			order(v.Exam.Status == vitals.Finished, o.Exam.Status == vitals.Finished),
			cmp.Compare(len(v.Exam.Findings), len(o.Exam.Findings)),
			v.Exam.At.Compare(o.Exam.At))
	}
	return cmp.Or(c, cmp.Compare(len(v.text), len(o.text)), bytes.Compare(v.text, o.text))
}

func order(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

// Check of one conflict; path is its place in the file.
func (c Conflict) check(path string, horses map[vitals.ID]vitals.Horse, exams map[vitals.ID]bool) vitals.Faults {
	switch {
	case (c.Horse == nil) == (c.Exam == nil):
		return vitals.Faults{fault(BadConflict, path)}
	case c.Horse != nil:
		if _, known := horses[c.Horse.ID]; !known {
			return vitals.Faults{fault(BadConflict, path+"/horse/id")}
		}
		return checkHorse(*c.Horse).At(path + "/horse")
	case !exams[c.Exam.ID]:
		return vitals.Faults{fault(BadConflict, path+"/exam/id")}
	}
	// By itself: the horse's birth may be what the versions differ about.
	return vitals.CheckExam(*c.Exam, vitals.Horse{ID: c.Exam.Horse}).At(path + "/exam")
}

func checkConflicts(list []Conflict, horses map[vitals.ID]vitals.Horse, exams map[vitals.ID]bool) vitals.Faults {
	var faults vitals.Faults
	versions := map[string]int{}
	for i, c := range list {
		if len(faults) > enough {
			break
		}
		at := "/conflicts/" + strconv.Itoa(i)
		said := c.check(at, horses, exams)
		if faults = append(faults, said...); len(said) > 0 {
			continue
		}
		// Each is compared with each when files are merged.
		if versions[c.id()]++; versions[c.id()] == MaxVersions+1 {
			faults = append(faults, fault(TooMany, at, "most", strconv.Itoa(MaxVersions)))
		}
	}
	return faults
}
