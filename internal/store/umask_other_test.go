//go:build !unix

package store_test

func openUmask() func() { return func() {} }
