package outside

// must is what a test goes on with: an error there is a fault of the test.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
