package main

import (
	"io"
	"reflect"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/xitongsys/parquet-go-source/local"
	"github.com/xitongsys/parquet-go/parquet"
	"github.com/xitongsys/parquet-go/reader"
	"github.com/xitongsys/parquet-go/writer"

	"whorl.example/baseline"
	"whorl.example/examples/herd"
	"whorl.example/schema"
	"whorl.example/vitals"
)

// exam is a row of what is read: the key, so that grouping need not look into the record, and the record as a line.
type exam struct {
	Horse  string `parquet:"name=horse, type=BYTE_ARRAY, convertedtype=UTF8, encoding=PLAIN_DICTIONARY"`
	Record string `parquet:"name=record, type=BYTE_ARRAY, convertedtype=UTF8"`
}

// told is herd.Told as a row.
type told struct {
	Horse     string  `parquet:"name=horse, type=BYTE_ARRAY, convertedtype=UTF8, encoding=PLAIN_DICTIONARY"`
	Exam      string  `parquet:"name=exam, type=BYTE_ARRAY, convertedtype=UTF8, encoding=PLAIN_DICTIONARY"`
	Sign      string  `parquet:"name=sign, type=BYTE_ARRAY, convertedtype=UTF8, encoding=PLAIN_DICTIONARY"`
	Site      string  `parquet:"name=site, type=BYTE_ARRAY, convertedtype=UTF8, encoding=PLAIN_DICTIONARY"`
	Statement string  `parquet:"name=statement, type=BYTE_ARRAY, convertedtype=UTF8, encoding=PLAIN_DICTIONARY"`
	Exams     int32   `parquet:"name=exams, type=INT32"`
	Tail      float64 `parquet:"name=tail, type=DOUBLE"`
	Alarms    int32   `parquet:"name=alarms, type=INT32"`
}

// horse is all rows of one, which travel as one element: a shuffle pays for each.
type horse struct{ Rows []told }

func init() {
	beam.RegisterType(reflect.TypeFor[exam]())
	beam.RegisterType(reflect.TypeFor[horse]())
}

func row(t herd.Told) told {
	return told{string(t.Horse), string(t.Exam), string(t.Sign), string(t.Site), string(t.Statement), int32(t.Exams), t.Tail, int32(t.Alarms)}
}

func (t told) told() herd.Told {
	return herd.Told{Horse: vitals.ID(t.Horse), Exam: vitals.ID(t.Exam), Sign: vitals.SignID(t.Sign), Site: vitals.SiteID(t.Site),
		Statement: baseline.Statement(t.Statement), Exams: int(t.Exams), Tail: t.Tail, Alarms: int(t.Alarms)}
}

func newWriter[row any](out io.Writer) (*writer.ParquetWriter, error) {
	w, err := writer.NewParquetWriterFromWriter(out, new(row), 1)
	if err == nil {
		w.CompressionType = parquet.CompressionCodec_ZSTD
	}
	return w, err
}

// printed writes the rows of a file as herd compare -narrow does.
func printed(out io.Writer, name string) error {
	f, err := local.NewLocalFileReader(name)
	if err != nil {
		return err
	}
	defer f.Close()
	r, err := reader.NewParquetReader(f, new(told), 1)
	if err != nil {
		return err
	}
	defer r.ReadStop()
	for left := int(r.GetNumRows()); left > 0; {
		rows := make([]told, min(left, 10_000))
		if err := r.Read(&rows); err != nil {
			return err
		}
		left -= len(rows)
		for _, t := range rows {
			text, err := schema.Marshal(t.told())
			if err == nil {
				_, err = out.Write(append(text, '\n'))
			}
			if err != nil {
				return err
			}
		}
	}
	return nil
}
