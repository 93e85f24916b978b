// Package cloud takes a scan as points with normals, whether it came as a surface or as bare points: what bringing scans together
// and joining them works on. Lengths are in the scan's own units; clouds and trees never change once made and are safe for use from
// many goroutines.
package cloud
