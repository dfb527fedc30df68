// Package baseline says what is normal for one horse, and how far an exam is from it.
package baseline
