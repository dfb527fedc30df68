package schema

import (
	"strconv"

	"whorl.example/vitals"
)

// Kind is the kind member of every barn file: it tells one from any other JSON file.
const Kind = "whorl-barn"

// Format is the format that this version writes, and the newest that it reads. Minor is the newest minor format of
// which it understands everything: of a newer one it keeps what it does not understand.
const (
	Format = 1
	Minor  = 0
)

// Limits of what is read. They stand far above a barn's lifetime of exams, and keep a
// hostile file from filling a phone's memory.
const (
	MaxBytes  = 16 << 20 // bytes of a document
	MaxDepth  = 32       // objects and lists inside each other; the format itself needs 7
	MaxText   = vitals.MaxNote
	MaxItems  = 50_000 // items of one list
	MaxFaults = 200    // faults listed; what is found after that is not

	// MaxVersions is how many conflicts a file can hold of one horse or exam.
	MaxVersions = 100
	// MaxAnswers is how many answers to "is this the new usual?" a horse can have.
	MaxAnswers = 200

	// enough faults to fill MaxFaults, even where some only follow from others.
	enough = 5 * MaxFaults
)

// File is a barn file: what one device knows.
type File struct {
	// Kind is always "whorl-barn". Encode sets it.
	Kind string `json:"kind"`
	// Format is the format's version, 1. Encode sets it.
	Format int `json:"format"`
	// Minor is the newest minor format of what the file holds; 0 if this version understands all. Encode sets it.
	Minor int `json:"minor,omitempty"`
	// Horses of the barn; their ids are unique.
	Horses []vitals.Horse `json:"horses"`
	// Exams of these horses, finished or draft; their ids are unique.
	Exams []vitals.Exam `json:"exams"`
	// Conflicts are other versions of these horses and exams, from other devices; see Merge.
	Conflicts []Conflict `json:"conflicts,omitempty"`
	// Gone are horses that a person deleted, and that are not in the file; see Merge.
	Gone []Gone `json:"gone,omitempty"`
	// Unread are records that whoever wrote the file could not put among the others, as they were.
	Unread []Unread `json:"unread,omitempty"`
	// Unknown is what a newer version wrote that this one does not understand.
	Unknown []vitals.Unknown `json:"unknown,omitempty"`
}

// Gone is the mark of a horse that was deleted with its exams.
type Gone struct {
	ID   vitals.ID `json:"id"`
	Name string    `json:"name"`
}

// Unread is a horse or an exam that does not keep the rules, as its text, and whose it is: a backup
// holds it rather than refuse to be written, and rather than lose it.
type Unread struct {
	Of   string   `json:"of"`
	Text Document `json:"text"`
}

// Record is one horse with its history, and one exam to be compared or told.
// The stream of records has one of them a line.
type Record struct {
	// Minor is the minor format of which the record is, if this version need not understand all of it.
	Minor int          `json:"minor,omitempty"`
	Horse vitals.Horse `json:"horse"`
	// Exams are the horse's history; the exam itself may be among them.
	Exams []vitals.Exam `json:"exams,omitempty"`
	Exam  vitals.Exam   `json:"exam"`
}

// Document is a whole document that travels as one text inside another: the one kind of
// text that may be longer than [MaxText].
type Document string

// JSONSchema gives the JSON Schema (2020-12) of the barn file: the text of whorl-1.schema.json without its white space.
func JSONSchema() Document { return jsonSchema }

// Decode reads a barn file. The error, if any, is a [vitals.Faults] with every fault found.
func Decode(data []byte) (File, error) {
	var f File
	err := Unmarshal(data, &f)
	if err != nil {
		return File{}, err
	}
	return f, nil
}

// Encode writes a barn file in canonical form, with a newline at its end. It reads back
// what it wrote and refuses, with the same faults, what [Decode] would refuse: a file that
// cannot be opened again is never written.
func Encode(f File) ([]byte, error) {
	f = f.gathered()
	f.Kind, f.Format = Kind, Format
	return encode(&f, &File{})
}

// DecodeRecord reads one record; faults as in [Decode].
func DecodeRecord(data []byte) (Record, error) {
	var r Record
	if err := Unmarshal(data, &r); err != nil {
		return Record{}, err
	}
	return r, nil
}

// EncodeRecord writes one record in canonical form, as one line with its newline.
// It refuses what [DecodeRecord] would refuse.
func EncodeRecord(r Record) ([]byte, error) {
	r.Minor = newestOf(r.Minor, &r.Exam)
	for i := range r.Exams {
		r.Minor = newestOf(r.Minor, &r.Exams[i])
	}
	r.Minor = newest(r.Minor, r.Horse.Unknown)
	return encode(&r, &Record{})
}

func encode(v, back any) ([]byte, error) {
	e := encoder{fields: fields{}, restores: true}
	text, err := e.marshal(v)
	if err != nil {
		return nil, err
	}
	if err := Unmarshal(text, back); err != nil {
		return nil, err
	}
	return append(text, '\n'), nil
}

// Check gives what is wrong with the file beyond its structure: the faults of each horse
// and exam, ids used twice, and exams of a horse that is not in the file.
func (f *File) Check() vitals.Faults {
	var faults vitals.Faults
	if f.Kind != Kind {
		return vitals.Faults{fault(NotWhorl, "/kind", "kind", Kind)}
	}
	if f.Format > Format {
		return vitals.Faults{fault(NewerFormat, "/format", "format", strconv.Itoa(f.Format), "known", strconv.Itoa(Format))}
	}
	if f.Format != Format || f.Minor < 0 {
		return vitals.Faults{fault(BadFormat, "/format", "known", strconv.Itoa(Format))}
	}
	horses := make(map[vitals.ID]vitals.Horse, len(f.Horses))
	for i, h := range f.Horses {
		if len(faults) > enough {
			return faults
		}
		at := "/horses/" + strconv.Itoa(i)
		faults = append(faults, checkHorse(h).At(at)...)
		if _, twice := horses[h.ID]; twice {
			faults = append(faults, fault(DuplicateID, at+"/id", "id", string(h.ID)))
		} else {
			horses[h.ID] = h
		}
	}
	exams := make(map[vitals.ID]bool, len(f.Exams))
	for i, e := range f.Exams {
		if len(faults) > enough {
			return faults
		}
		at := "/exams/" + strconv.Itoa(i)
		horse, known := horses[e.Horse]
		if !known {
			faults = append(faults, fault(UnknownHorse, at+"/horse", "id", string(e.Horse)))
			horse.ID = e.Horse // said once is enough
		}
		faults = append(faults, vitals.CheckExam(e, horse).At(at)...)
		if exams[e.ID] {
			faults = append(faults, fault(DuplicateID, at+"/id", "id", string(e.ID)))
		}
		exams[e.ID] = true
	}
	gone := make(map[vitals.ID]bool, len(f.Gone))
	for i, g := range f.Gone {
		if len(faults) > enough {
			return faults
		}
		at := "/gone/" + strconv.Itoa(i)
		faults = append(faults, vitals.CheckHorse(vitals.Horse{ID: g.ID, Name: g.Name, Type: vitals.TypeHorse}).At(at)...)
		if _, known := horses[g.ID]; known || gone[g.ID] {
			faults = append(faults, fault(DuplicateID, at+"/id", "id", string(g.ID)))
		}
		gone[g.ID] = true
	}
	faults = append(faults, vitals.CheckUnknown(f.Unknown)...)
	return append(faults, checkConflicts(f.Conflicts, horses, exams)...)
}

// Check gives what is wrong with the record beyond its structure: the faults of the horse
// and of each exam, exams of another horse, and ids used twice in the history.
func (r *Record) Check() vitals.Faults {
	faults := checkHorse(r.Horse).At("/horse")
	seen := make(map[vitals.ID]bool, len(r.Exams))
	for i, e := range r.Exams {
		if len(faults) > enough {
			return faults
		}
		at := "/exams/" + strconv.Itoa(i)
		faults = append(faults, vitals.CheckExam(e, r.Horse).At(at)...)
		if seen[e.ID] {
			faults = append(faults, fault(DuplicateID, at+"/id", "id", string(e.ID)))
		}
		seen[e.ID] = true
	}
	return append(faults, vitals.CheckExam(r.Exam, r.Horse).At("/exam")...)
}

// checkHorse is vitals.CheckHorse with the bound of the answers, which are merged one by one.
func checkHorse(h vitals.Horse) vitals.Faults {
	if len(h.NewUsual) > MaxAnswers {
		return vitals.Faults{fault(TooMany, "/newUsual", "most", strconv.Itoa(MaxAnswers))}
	}
	return vitals.CheckHorse(h)
}
