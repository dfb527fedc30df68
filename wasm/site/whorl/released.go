//go:build released

package main

import "embed"

// The two files lie here only while a release is made.
//
//go:embed page.zip NOTICE
var released embed.FS

func init() { inside = released }
