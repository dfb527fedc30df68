package main

import (
	"context"
	"fmt"
	"hash/fnv"
	"path"
	"reflect"
	"strings"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/parquetio"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/textio"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/register"

	"whorl.example/examples/herd"
	"whorl.example/schema"
)

func init() {
	register.Function1x2(keyOfRow)
	register.Function3x0(keyOfLine)
	register.DoFn5x0[string, func(*string) bool, func(int, horse), func(string), func(string)](&compare{})
	register.DoFn3x1[context.Context, int, func(*horse) bool, error](&write{})
	register.Emitter1[string]()
	register.Emitter2[string, string]()
	register.Emitter2[int, horse]()
	register.Iter1[string]()
	register.Iter1[horse]()
}

// job is what the pipeline is told.
type job struct {
	in, out string
	parts   int
	lines   bool
}

func (j job) build(s beam.Scope) {
	var exams, refused beam.PCollection
	if strings.HasSuffix(j.in, ".parquet") {
		exams = beam.ParDo(s, keyOfRow, parquetio.Read(s, j.in, reflect.TypeFor[exam]()))
	} else {
		exams, refused = beam.ParDo2(s, keyOfLine, textio.Read(s, j.in))
	}
	rows, lines, faulty := beam.ParDo3(s, &compare{j.parts, j.lines}, beam.GroupByKey(s, exams))
	if refused.IsValid() {
		faulty = beam.Flatten(s, refused, faulty)
	}
	beam.ParDo0(s, &write{j.out, j.parts}, beam.GroupByKey(s, rows))
	textio.Write(s, path.Join(j.out, "refused.txt"), faulty)
	if j.lines {
		textio.Write(s, path.Join(j.out, "comparisons.jsonl"), lines)
	}
}

func keyOfRow(e exam) (string, string) { return e.Horse, e.Record }

// keyOfLine finds the horse without reading the rest, in a line as the library writes it.
func keyOfLine(line string, emit func(string, string), refuse func(string)) {
	const before = `"horse":{"id":"`
	_, id, found := strings.Cut(line, before)
	if found {
		id, _, found = strings.Cut(id, `"`)
	}
	if !found {
		r, err := schema.DecodeRecord([]byte(line))
		if err != nil {
			refuse(refusal(err, line))
			return
		}
		id = string(r.Horse.ID)
	}
	emit(id, line)
}

// refusal names what is no record: its faults, and how it begins.
func refusal(err error, line string) string {
	return fmt.Sprintf("%v: %.80q", err, line)
}

// compare does both steps for one horse.
type compare struct {
	Parts int
	Lines bool
}

// ProcessElement joins the records of a horse, and compares each exam.
func (f *compare) ProcessElement(id string, texts func(*string) bool, told func(int, horse), whole, refuse func(string)) {
	var records []schema.Record
	for text := ""; texts(&text); {
		r, err := schema.DecodeRecord([]byte(text))
		if err == nil && string(r.Horse.ID) != id {
			err = fmt.Errorf("the key is %q, the record is of %q", id, r.Horse.ID)
		}
		if err != nil {
			refuse(refusal(err, text))
			continue
		}
		records = append(records, r)
	}
	if len(records) == 0 {
		return
	}
	record, err := herd.Join(records...)
	if err != nil {
		refuse(refusal(err, id))
		return
	}
	var all horse
	for c, err := range herd.Compare(record) {
		if err != nil {
			refuse(refusal(err, id))
			continue
		}
		for _, t := range herd.Narrow(c) {
			all.Rows = append(all.Rows, row(t))
		}
		if !f.Lines {
			continue
		}
		text, err := schema.Marshal(c)
		if err != nil {
			refuse(refusal(err, id))
			continue
		}
		whole(string(text))
	}
	sum := fnv.New32a()
	sum.Write([]byte(id))
	told(int(sum.Sum32()%uint32(max(1, f.Parts))), all)
}

// write makes one file of each part, whose name is the part's, so that a part that is done again takes the place of its first try.
type write struct {
	Folder string
	Parts  int
}

// ProcessElement writes the rows of a part.
func (f *write) ProcessElement(ctx context.Context, part int, horses func(*horse) bool) error {
	name := path.Join(f.Folder, fmt.Sprintf("told-%05d-of-%05d.parquet", part, f.Parts))
	files, err := filesystem.New(ctx, name)
	if err != nil {
		return err
	}
	defer files.Close()
	to, err := files.OpenWrite(ctx, name)
	if err != nil {
		return err
	}
	w, err := newWriter[told](to)
	if err != nil {
		to.Close()
		return err
	}
	for h := (horse{}); horses(&h); {
		for _, t := range h.Rows {
			if err := w.Write(t); err != nil {
				to.Close()
				return err
			}
		}
	}
	if err := w.WriteStop(); err != nil {
		to.Close()
		return err
	}
	return to.Close()
}
