package index

// AppendPlain appends a plain value (a struct of strings, numbers, slices and pointers, exported fields only) to b as a short byte string.
func AppendPlain(b []byte, v any) []byte { return newCodec(v).encode(b, v, nil) }

// ReadPlain reads what AppendPlain wrote into what into points to, which must be the zero value of the same type. Its strings share the memory of data.
func ReadPlain(data string, into any) error { return newCodec(into).decode(data, into, nil) }
