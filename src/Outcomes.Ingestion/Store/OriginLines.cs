using System.Runtime.InteropServices;

namespace Outcomes.Ingestion.Store;

/// <summary>The line in its origin of every row of a mended file, as a file of 32-bit integers.</summary>
public static class OriginLines
{
    public static void Write(string path, List<int> lines)
    {
        using var file = File.Create(path);
        file.Write(MemoryMarshal.AsBytes(CollectionsMarshal.AsSpan(lines)));
    }

    public static int[] Read(string path) => MemoryMarshal.Cast<byte, int>(File.ReadAllBytes(path)).ToArray();
}
