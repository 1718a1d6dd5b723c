using System.Runtime.InteropServices;
using System.Text;
using Outcomes.Ingestion.Reading;

namespace Outcomes.Ingestion.Traces;

/// <summary>
/// The rows of one record in one trace file. Samples by the million are not kept one by one in the ledger: these sums are, and every
/// row of the file is in exactly one of them.
/// </summary>
/// <param name="Key">The record's key; empty for rows without one.</param>
/// <param name="Line">Its first row.</param>
/// <param name="Rows">All rows.</param>
/// <param name="Held">Those without a usable offset or signal, or ragged: quarantined whatever the pipeline says.</param>
/// <param name="HeldLine">The first of those; 0 without any.</param>
/// <param name="HeldRule">What was wrong with it.</param>
/// <param name="Faults">Rows with a bad cell that are not held: quarantined where the pipeline is strict.</param>
/// <param name="FaultLine">The first of those; 0 without any.</param>
public sealed record TraceRows(string Key, int Line, long Rows, long Held, int HeldLine, string HeldRule, long Faults, int FaultLine)
{
    /// <summary>True when the file holds a trace of the record, and not only rows that cannot be placed.</summary>
    internal bool HoldTrace => Key.Length > 0 && Rows > Held;
}

/// <summary>A stored sample: 16 bytes. The key orders by record, signal and time.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
internal readonly record struct StoredSample(ulong Key, double Value)
{
    public static StoredSample Of(int record, Signal signal, int ms, double value) =>
        new(((ulong)record << 35) | ((ulong)signal << 32) | ((uint)ms ^ 0x8000_0000u), value);

    public static int RecordOf(ulong key) => (int)(key >> 35);

    public static Signal SignalOf(ulong key) => (Signal)((key >> 32) & 7);

    public static int MsOf(ulong key) => (int)((uint)key ^ 0x8000_0000u);
}

/// <summary>
/// A trace file in the store: the samples in parts, each small enough to be sorted and held in memory, all of one record in one part;
/// and the sums of its rows, record by record.
/// </summary>
public static class TraceFile
{
    internal const string RowsFile = "traces.bin";

    /// <summary>Bytes of text to a part: at some tens of bytes a row that is a few tens of megabytes of samples.</summary>
    internal const long PartBytes = 32L << 20;

    internal const int MostParts = 256;

    /// <summary>More than this is no trace of one procedure: most likely the key is not the procedure's.</summary>
    public const int MostSamples = 5_000_000;

    internal static string Part(string folder, int part) => Path.Combine(folder, $"samples-{part:000}.bin");

    internal static int Parts(string folder) => Directory.EnumerateFiles(folder, "samples-*.bin").Count();

    internal static void Write(string folder, IReadOnlyCollection<TraceRows> records)
    {
        using var writer = new BinaryWriter(
            new FileStream(Path.Combine(folder, RowsFile), FileMode.Create, FileAccess.Write, FileShare.None, 1 << 16), Encoding.UTF8);
        writer.Write(records.Count);
        foreach (var rows in records)
        {
            writer.Write(rows.Key);
            writer.Write(rows.Line);
            writer.Write(rows.Rows);
            writer.Write(rows.Held);
            writer.Write(rows.HeldLine);
            writer.Write(rows.HeldRule);
            writer.Write(rows.Faults);
            writer.Write(rows.FaultLine);
        }
    }

    /// <summary>
    /// The sums of every record, in the order in which the file first names them; a record's place is its number in the samples.
    /// </summary>
    public static TraceRows[] Read(string folder)
    {
        using var reader = new BinaryReader(
            new FileStream(Path.Combine(folder, RowsFile), FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 16), Encoding.UTF8);
        var records = new TraceRows[reader.ReadInt32()];
        for (var i = 0; i < records.Length; i++)
            records[i] = new TraceRows(reader.ReadString(), reader.ReadInt32(), reader.ReadInt64(), reader.ReadInt64(), reader.ReadInt32(),
                reader.ReadString(), reader.ReadInt64(), reader.ReadInt32());
        return records;
    }

}
