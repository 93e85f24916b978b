// Package golden compares pictures with ones that were looked at and kept. It is for tests only.
//
// A test's picture lies in testdata/<name>.png beside the test. Run with -update to keep the picture as it is now; when it
// differs, the new one and a map of the difference are left in testdata/failed.
package golden
