package schema

import (
	"bytes"
	"reflect"
	"slices"
	"strings"

	"whorl.example/schema/internal/lex"
	"whorl.example/vitals"
)

// minored is a document that says of which minor format it is.
type minored interface{ minor() int }

func (f *File) minor() int   { return f.Minor }
func (r *Record) minor() int { return r.Minor }

// keeper is an object that keeps what is not understood in it.
type keeper struct {
	list *[]vitals.Unknown
	at   string // its place
}

// keeping gives the list in which a value keeps what is not understood, nil if it has none.
func keeping(v reflect.Value) *[]vitals.Unknown {
	if !v.CanAddr() {
		return nil
	}
	switch x := v.Addr().Interface().(type) {
	case *vitals.Finding:
		return &x.Unknown
	case *vitals.Exam:
		return &x.Unknown
	case *vitals.Horse:
		return &x.Unknown
	case *File:
		return &x.Unknown
	}
	return nil
}

// keep takes what stands from a place of the text to where the reader is into the object that it belongs to, and reports whether there is one.
func (d *decoder) keep(from int, at string) bool {
	if len(d.keepers) == 0 {
		return false
	}
	k := d.keepers[len(d.keepers)-1]
	raw := bytes.TrimLeft(d.data[from:d.in.Offset()], " \t\r\n:,")
	*k.list = append(*k.list, vitals.Unknown{At: at[len(k.at):], JSON: vitals.Raw(raw), Minor: d.minor})
	return true
}

// newer are the faults that a newer vocabulary makes. All others are faults in every format.
var newer = []vitals.FaultCode{
	vitals.FaultUnknownSign, vitals.FaultUnknownSite, vitals.FaultUnknownGrade, vitals.FaultUnknownWhere, vitals.FaultUnknownAnswer,
	vitals.FaultWrongKind, vitals.FaultWrongUnit, vitals.FaultWrongDevice, vitals.FaultNoValue, UnknownMember,
}

func isNewer(f vitals.Fault) bool { return slices.Contains(newer, f.Code) }

// foreign reports whether an item of a list, read without faults but those given, says something that this version does
// not know, so that it is kept whole.
func foreign(v reflect.Value, faults vitals.Faults) bool {
	of := func(prefix string, faults vitals.Faults) bool {
		return slices.ContainsFunc(faults, func(f vitals.Fault) bool { return strings.HasPrefix(f.Path, prefix) && isNewer(f) })
	}
	if slices.ContainsFunc(faults, func(f vitals.Fault) bool { return !isNewer(f) }) {
		return false
	}
	switch x := v.Addr().Interface().(type) {
	case *vitals.Finding:
		return of("/findings/0", vitals.CheckExam(vitals.Exam{Findings: []vitals.Finding{*x}}, vitals.Horse{}))
	case *vitals.NewUsual:
		return of("/newUsual/0", vitals.CheckHorse(vitals.Horse{NewUsual: []vitals.NewUsual{*x}}))
	case *vitals.Exam:
		return of("", vitals.CheckExam(*x, vitals.Horse{ID: x.Horse}))
	case *vitals.Horse:
		return of("", vitals.CheckHorse(*x))
	case *Conflict:
		return len(faults) > 0 || x.Exam != nil && of("", vitals.CheckExam(*x.Exam, vitals.Horse{ID: x.Exam.Horse})) || x.Horse != nil && of("", vitals.CheckHorse(*x.Horse))
	}
	return false
}

const (
	ofTheFile  = "/exams/-"
	ofTheHorse = "exams/-"
)

// adopt gives the exams that were not understood to their horses, and keeps those of a horse that was not understood.
func (f *File) adopt() error {
	at := map[vitals.ID]int{}
	for i, h := range f.Horses {
		at[h.ID] = i
	}
	var exams []vitals.Exam
	for _, e := range f.Exams {
		if _, known := at[e.Horse]; known {
			exams = append(exams, e)
			continue
		}
		text, err := Marshal(e)
		if err != nil {
			return err
		}
		f.Unknown = append(f.Unknown, vitals.Unknown{At: ofTheFile, JSON: vitals.Raw(text), Minor: f.Minor})
	}
	f.Exams = exams
	f.Unknown = slices.DeleteFunc(f.Unknown, func(u vitals.Unknown) bool {
		var e struct {
			Horse vitals.ID `json:"horse"`
		}
		d := decoder{data: []byte(u.JSON), in: lex.NewReader([]byte(u.JSON)), fields: fields{}, lengths: map[reflect.Type]int{}}
		d.value(reflect.ValueOf(&e).Elem())
		i, known := at[e.Horse]
		if !known || u.At != ofTheFile {
			return false
		}
		u.At = ofTheHorse
		f.Horses[i].Unknown = append(f.Horses[i].Unknown, u)
		return true
	})
	return nil
}

// gathered is the file as it is written: the exams that its horses keep are the file's again, and the minor format is
// the newest of what is kept.
func (f File) gathered() File {
	f.Unknown, f.Horses = slices.Clone(f.Unknown), slices.Clone(f.Horses)
	for i := range f.Horses {
		h := &f.Horses[i]
		h.Unknown = slices.DeleteFunc(slices.Clone(h.Unknown), func(u vitals.Unknown) bool {
			if u.At != ofTheHorse {
				return false
			}
			u.At = ofTheFile
			f.Unknown = append(f.Unknown, u)
			return true
		})
		f.Minor = newest(f.Minor, h.Unknown)
	}
	for i := range f.Exams {
		f.Minor = newestOf(f.Minor, &f.Exams[i])
	}
	for _, c := range f.Conflicts {
		if c.Exam != nil {
			f.Minor = newestOf(f.Minor, c.Exam)
		} else if c.Horse != nil {
			f.Minor = newest(f.Minor, c.Horse.Unknown)
		}
	}
	f.Minor = newest(f.Minor, f.Unknown)
	return f
}

func newestOf(minor int, e *vitals.Exam) int {
	for i := range e.Findings {
		minor = newest(minor, e.Findings[i].Unknown)
	}
	return newest(minor, e.Unknown)
}

func newest(minor int, list []vitals.Unknown) int {
	for _, u := range list {
		minor = max(minor, u.Minor)
	}
	return minor
}

// restore writes, at the end of the object or the list that is being written, what belongs there and is not understood.
func (e *encoder) restore(list bool) {
	var here []byte
	for i, u := range e.kept {
		if u.At == "" {
			continue
		}
		if here == nil {
			here = []byte{}
			for _, name := range e.path[e.base:] {
				here = lex.AppendPointer(here, name)
			}
		}
		if lex.Parent(u.At) != string(here) || strings.HasSuffix(u.At, "/-") != list {
			continue
		}
		if !single(string(u.JSON)) {
			e.add(BadJSON, "line", "1", "column", "1")
			continue
		}
		e.comma()
		if !list {
			name := u.At[len(here)+1:]
			e.text(strings.ReplaceAll(strings.ReplaceAll(name, "~1", "/"), "~0", "~"), true, BadText) // RFC 6901
			e.out = append(e.out, ':')
		}
		e.out = append(e.out, u.JSON...)
		e.kept[i].At = ""
	}
}

// single reports whether a text is one JSON value and nothing else.
func single(text string) bool {
	in := lex.NewReader([]byte(text))
	for {
		if _, err := in.Next(); err != nil {
			return false
		}
		if in.Depth() == 0 {
			return in.Offset() == len(text)
		}
	}
}
