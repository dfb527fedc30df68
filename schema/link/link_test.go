package link

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/schema"
)

// Both spellings carry any record exactly, and nothing that QR's dense mode or a URL's
// fragment (RFC 3986, 3.5) has no place for.
func TestRoundTrip(t *testing.T) {
	t.Parallel()
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
	t.Parallel()
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
	t.Parallel()
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
	t.Parallel()
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

// What opens was spelled in the one way in which its bytes are spelled, and its record travels on.
func FuzzOpen(f *testing.F) {
	f.Add(Fragment(example))
	f.Add(Code(example))
	f.Add("#w1=AAAA")
	f.Fuzz(func(t *testing.T, text string) {
		record, err := Open(text)
		if err != nil {
			ours(t, err)
			return
		}
		text = strings.TrimPrefix(text, "#")
		if spelled, code := strings.CutPrefix(text, prefixCode); code {
			packed, _ := decode43(spelled)
			if encode43(packed) != spelled {
				t.Fatalf("%q opens and is spelled otherwise", text)
			}
		} else {
			spelled := strings.TrimPrefix(text, prefixLink)
			packed, _ := base64.RawURLEncoding.DecodeString(spelled)
			if base64.RawURLEncoding.EncodeToString(packed) != spelled {
				t.Fatalf("%q opens and is spelled otherwise", text)
			}
		}
		travelsOn(t, record)
	})
}

func ours(t *testing.T, err error) {
	t.Helper()
	if !errors.Is(err, ErrForeign) && !errors.Is(err, ErrNewer) && !errors.Is(err, ErrCut) && !errors.Is(err, ErrLarge) {
		t.Fatalf("%v is not an error of this package", err)
	}
}

func travelsOn(t *testing.T, record []byte) {
	t.Helper()
	for _, text := range []string{Fragment(record), Code(record)} {
		again, err := Open(text)
		if err != nil || !bytes.Equal(again, record) {
			t.Fatalf("%q: %v, %q", record, err, again)
		}
	}
}

// Behind a right check code any bytes may stand: both spellings say the same of them, and nothing
// opens to more than MaxRecord. Deflate has many spellings of one record, so the record is what comes back.
func FuzzUnpack(f *testing.F) {
	f.Add(pack(example)[checkLen:])
	f.Add(pack(bytes.Repeat([]byte{'['}, 2*MaxRecord))[checkLen:])
	f.Add([]byte{0, 0, 0, 0xff, 0xff, 3, 0}) // an empty stored block before the last
	f.Fuzz(func(t *testing.T, deflated []byte) {
		packed := binary.BigEndian.AppendUint32(nil, crc32.ChecksumIEEE(deflated))
		packed = append(packed, deflated...)
		record, err := Open(prefixLink + base64.RawURLEncoding.EncodeToString(packed))
		other, otherErr := Open(prefixCode + encode43(packed))
		if !errors.Is(otherErr, err) || !bytes.Equal(record, other) {
			t.Fatalf("the link gives %v and %q, the code %v and %q", err, record, otherErr, other)
		}
		if err != nil {
			ours(t, err)
			return
		}
		if len(record) > MaxRecord {
			t.Fatalf("opens to %d bytes", len(record))
		}
		travelsOn(t, record)
	})
}

// A text of base 43 and its bytes are one to one.
func Fuzz43(f *testing.F) {
	for _, s := range []string{"", "00", ":::", "ABC", "AB", "R3A", "J0D", "0000"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if data, err := decode43(text); err == nil && encode43(data) != text {
			t.Errorf("%q is %x, and that %q", text, data, encode43(data))
		}
		if data, err := decode43(encode43([]byte(text))); err != nil || string(data) != text {
			t.Errorf("%x comes back as %x: %v", text, data, err)
		}
	})
}
