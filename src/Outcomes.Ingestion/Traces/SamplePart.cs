using System.Runtime.InteropServices;

namespace Outcomes.Ingestion.Traces;

/// <summary>
/// The samples of one part in memory. It is filled again for the next part, so that a file of many parts takes no more room than one.
/// </summary>
internal sealed class SamplePart
{
    private readonly StoredSample[] _some = new StoredSample[4096];

    /// <summary>Keys of the samples; those from <see cref="Count"/> on are none.</summary>
    public ulong[] Keys { get; private set; } = [];

    public double[] Values { get; private set; } = [];

    public int Count { get; private set; }

    public void Read(string path)
    {
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 16);
        Count = (int)(file.Length / Marshal.SizeOf<StoredSample>());
        if (Keys.Length < Count) (Keys, Values) = (new ulong[Count], new double[Count]);
        for (var at = 0; at < Count;)
        {
            var some = _some.AsSpan(0, Math.Min(_some.Length, Count - at));
            file.ReadExactly(MemoryMarshal.AsBytes(some));
            foreach (var sample in some) (Keys[at], Values[at++]) = (sample.Key, sample.Value);
        }
    }

    /// <summary>Puts the samples in the order of record, signal and time.</summary>
    public void Sort() => Array.Sort(Keys, Values, 0, Count);

    public void Write(string path)
    {
        using var file = new FileStream(path, FileMode.Create, FileAccess.Write, FileShare.None, 1 << 16);
        for (var at = 0; at < Count;)
        {
            var some = _some.AsSpan(0, Math.Min(_some.Length, Count - at));
            for (var i = 0; i < some.Length; i++, at++) some[i] = new StoredSample(Keys[at], Values[at]);
            file.Write(MemoryMarshal.AsBytes(some));
        }
    }
}
