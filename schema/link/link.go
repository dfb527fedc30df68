// Package link carries a record in the fragment of a web address and in a QR code: the
// part after '#', which a browser never sends to a server. Whoever opens the address on
// any copy of the page sees the exam, computed, without an account.
//
// A fragment is a version, the record deflated against that version's dictionary, and a
// check code, in one of two spellings of the same bytes:
//
//	w1=…   base64url (RFC 4648, no padding), for links
//	W1:…   the 43 characters that both a QR code's dense mode and a URL can carry
//
// The check code finds damage on the way. It is no signature: whoever knows the layout can write any exam, under any name. So what a
// link says of the sender's history is told as the sender's, within what can be, and what follows from the exam is worked out anew.
//
// # A promise
//
// What version 1 wrote is read for ever: its dictionary and its layout never change. A
// later layout gets a number of its own.
package link

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"strings"
)

// Prefixes of the two spellings of version 1.
const (
	prefixLink = "w1="
	prefixCode = "W1:"
)

// MaxRecord is the longest record that a link opens to, in bytes: more than any exam
// needs, and a bound on what a hostile link can make of few characters.
const MaxRecord = 256 << 10

// The errors of Open.
var (
	// ErrForeign: the fragment is not one of ours.
	ErrForeign = errors.New("this address carries no exam")
	// ErrNewer: a later version wrote it.
	ErrNewer = errors.New("this exam was sent by a newer version of the page")
	// ErrCut: characters are missing, were changed or were added on the way.
	ErrCut = errors.New("this link was cut or changed on the way")
	// ErrLarge: it opens to more than MaxRecord.
	ErrLarge = errors.New("this link holds more than an exam can")
)

// maxFragment is the longest fragment that is read: what cannot be deflated is base64 of little more than itself.
const maxFragment = 2 * MaxRecord

// Fragment gives the fragment of a link, without '#', for a record in canonical form.
func Fragment(record []byte) string {
	return prefixLink + base64.RawURLEncoding.EncodeToString(pack(record))
}

// Code gives the fragment of a QR code, without '#'.
func Code(record []byte) string { return prefixCode + encode43(pack(record)) }

// Open gives the record of a fragment in either spelling, with or without '#'. The error
// is one of this package's.
func Open(fragment string) ([]byte, error) {
	fragment = strings.TrimPrefix(fragment, "#")
	if len(fragment) > maxFragment {
		return nil, ErrLarge
	}
	var packed []byte
	var err error
	switch {
	case strings.HasPrefix(fragment, prefixLink):
		packed, err = base64.RawURLEncoding.Strict().DecodeString(fragment[len(prefixLink):])
		if strings.ContainsAny(fragment, "\r\n") { // the decoder skips them
			err = ErrCut
		}
	case strings.HasPrefix(fragment, prefixCode):
		packed, err = decode43(fragment[len(prefixCode):])
	default:
		return nil, foreign(fragment)
	}
	if err != nil {
		return nil, ErrCut
	}
	return unpack(packed)
}

// foreign tells a later version's fragment from anything else.
func foreign(fragment string) error {
	if len(fragment) < 3 || fragment[0] != 'w' && fragment[0] != 'W' {
		return ErrForeign
	}
	mark := strings.IndexAny(fragment, "=:")
	if mark < 2 || mark > 4 || strings.Trim(fragment[1:mark], "0123456789") != "" {
		return ErrForeign
	}
	return ErrNewer
}

const checkLen = 4

// pack deflates a record and puts a check code before it. The code is of the deflated
// bytes, since deflate has many spellings of one record: CRC-32 finds every change within
// 32 neighbouring bits, so every change of a single character.
func pack(record []byte) []byte {
	var out bytes.Buffer
	out.Write(make([]byte, checkLen))
	w, err := flate.NewWriterDict(&out, flate.BestCompression, []byte(dictionary1))
	if err != nil {
		panic(err) // only for a level that does not exist
	}
	w.Write(record) // a bytes.Buffer takes everything
	w.Close()
	packed := out.Bytes()
	binary.BigEndian.PutUint32(packed, crc32.ChecksumIEEE(packed[checkLen:]))
	return packed
}

func unpack(packed []byte) ([]byte, error) {
	if len(packed) <= checkLen || crc32.ChecksumIEEE(packed[checkLen:]) != binary.BigEndian.Uint32(packed) {
		return nil, ErrCut
	}
	source := bytes.NewReader(packed[checkLen:])
	record, err := io.ReadAll(io.LimitReader(flate.NewReaderDict(source, []byte(dictionary1)), MaxRecord+1))
	switch {
	case len(record) > MaxRecord:
		return nil, ErrLarge
	case err != nil, source.Len() > 0:
		return nil, ErrCut
	}
	return record, nil
}
