package link

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/schema"
)

// Both spellings carry any record exactly, and nothing that QR's dense mode or a URL's
// fragment (RFC 3986, 3.5) has no place for.
func TestRoundTrip(t *testing.T) {
	const fragment = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~!$&'()*+,;=:@/?"
	const dense = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
	rapid.Check(t, func(t *rapid.T) {
		record := rapid.SliceOfN(rapid.Byte(), 1, 2000).Draw(t, "record")
		for _, text := range []string{Fragment(record), Code(record)} {
			got, err := Open("#" + text)
			if err != nil || !bytes.Equal(got, record) {
				t.Fatalf("%q opened to %q, %v", text, got, err)
			}
			if strings.Trim(text, fragment) != "" {
				t.Fatalf("%q is no fragment", text)
			}
		}
		if code := Code(record); strings.Trim(code, dense) != "" {
			t.Fatalf("%q is not dense", code)
		}
	})
}

var example = []byte(`{"horse":{"id":"bramble","name":"Bramble","type":"horse"},"exam":{"findings":[{"sign":"heart-rate","count":{"events":9,"seconds":15,"start":"anywhere"}}]}}`)

// Every change of one character, every cut and every added character is seen.
func TestEveryChangeIsSeen(t *testing.T) {
	exam, c := compared(t, 3)
	night, err := schema.Marshal(New(bramble, exam, &c))
	td.Require(t).CmpNoError(err)
	for _, text := range []string{Fragment(example), Code(example), Fragment(night), Code(night)} {
		for n := range len(text) {
			if _, err := Open(text[:n]); err == nil {
				t.Errorf("cut to %d of %d characters opens", n, len(text))
			}
		}
		tried := 0
		for i := range len(text) {
			for c := byte(0x20); c < 0x7f; c++ {
				if c == text[i] {
					continue
				}
				tried++
				changed := text[:i] + string(c) + text[i+1:]
				if got, err := Open(changed); err == nil {
					t.Errorf("%q at %d for %q opens to %q", c, i, text[i], got)
				}
			}
			for _, more := range []string{"A", "0", "=", "\n", " "} {
				if _, err := Open(text[:i] + more + text[i:]); err == nil {
					t.Errorf("%q put in at %d opens", more, i)
				}
			}
		}
		for _, more := range []string{"A", "AA", "AAA", "AAAA", "0", "00", "000", "\n", "\r\n"} {
			if _, err := Open(text + more); err == nil {
				t.Errorf("%q at the end opens", more)
			}
		}
		td.CmpGt(t, tried, 94*len(text)-1)
	}
}

func TestWhyItDoesNotOpen(t *testing.T) {
	long := Fragment(bytes.Repeat([]byte("0123456789abcdef"), MaxRecord/16+1))
	td.CmpLt(t, len(long), 4000, "a small link that opens to much")
	for text, want := range map[string]error{
		"":                       ErrForeign,
		"#":                      ErrForeign,
		"#top":                   ErrForeign,
		"#w":                     ErrForeign,
		"#w=x":                   ErrForeign,
		"#wx=x":                  ErrForeign,
		"#w2=abc":                ErrNewer,
		"#W12:ABC":               ErrNewer,
		"#w1=":                   ErrCut,
		"#w1=????":               ErrCut,
		"#W1:A":                  ErrCut,
		"#W1::::":                ErrCut, // 79506, above two bytes
		long:                     ErrLarge,
		Fragment(example) + "A":  ErrCut,
		Fragment(example)[:40]:   ErrCut,
		"#" + Code(example)[:40]: ErrCut,
	} {
		_, err := Open(text)
		td.Cmp(t, errors.Is(err, want), true, "%.40q: %v, want %v", text, err, want)
	}
}

// RFC 9285's examples hold with its rule and our alphabet: the same digits, two to three
// characters, of base 43 instead of 45.
func TestBase43(t *testing.T) {
	td.Cmp(t, encode43([]byte("AB")), encodeDigits(16706))
	td.Cmp(t, encode43([]byte{0xff, 0xff}), encodeDigits(65535))
	for _, bad := range []string{":::", "::", "A", "ABCD", "AB ", "AB%", "ab0"} {
		_, err := decode43(bad)
		td.CmpError(t, err, bad)
	}
}

func encodeDigits(n int) string {
	var s string
	for range 3 {
		s += string(base43[n%43])
		n /= 43
	}
	return s
}

func FuzzOpen(f *testing.F) {
	f.Add(Fragment(example))
	f.Add(Code(example))
	f.Add("#w1=AAAA")
	f.Fuzz(func(t *testing.T, text string) {
		record, err := Open(text)
		if err != nil {
			if !errors.Is(err, ErrForeign) && !errors.Is(err, ErrNewer) && !errors.Is(err, ErrCut) && !errors.Is(err, ErrLarge) {
				t.Fatalf("%v is not an error of this package", err)
			}
			return
		}
		again, err := Open(Fragment(record))
		if err != nil || !bytes.Equal(again, record) {
			t.Fatalf("%q", record)
		}
	})
}
