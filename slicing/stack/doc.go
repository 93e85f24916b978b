// Package stack stands a piece up, divides it into layers and says what every layer holds.
//
// It takes a closed mesh (package mesh) and the maker's choices, and gives: the mesh where it stands (Place), the layers of
// the stack (Layers), how the grain meets at joints (JointGrain), everything that depends on height alone (Profile), the
// outlines at any heights (Slicer) and which pieces every layer has (Divide).
//
// Lengths are mm, areas mm², volumes mm³. Heights are measured from the floor, Z up, in the frame of the stand. "Above" and
// "below" a height mean just above and just below it: the two differ where the piece has a flat face at that height.
//
// Volumes and moments come from the divergence theorem applied to the part of each facet below a plane (compare Mirtich,
// "Fast and Accurate Computation of Polyhedral Mass Properties", Journal of Graphics Tools 1(2), 1996); the sections from
// one sweep over all planes (compare Minetto, Volpato, Stolfi, Gregori and da Silva, "An optimal algorithm for 3D triangle
// mesh slicing", Computer-Aided Design 92, 2017), with degenerate places decided by a rule instead of a nudge (in the manner
// of Edelsbrunner and Mücke, "Simulation of Simplicity", ACM Transactions on Graphics 9(1), 1990).
package stack
