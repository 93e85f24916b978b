/* Stands in for a library of Windows 8 and later that wine 8 lacks, so that the smoke test runs; it is in no package. */
#include <windows.h>
BOOLEAN NTAPI SystemFunction036(PVOID, ULONG);
__declspec(dllexport) BOOL WINAPI ProcessPrng(PBYTE data, SIZE_T length) { return SystemFunction036(data, (ULONG)length); }
