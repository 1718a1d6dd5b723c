using Outcomes.Records;

namespace Outcomes.Ingestion;

/// <summary>A source that has been read: its place in the store and what reading it found.</summary>
/// <param name="Request">What was asked for.</param>
/// <param name="Stored">Its Parquet files.</param>
/// <param name="Manifest">Its manifest.</param>
/// <param name="ReadAnew">False when the store already held it.</param>
/// <param name="Dictionary">The dictionary that it was read by.</param>
public sealed record IngestedSource(
    SourceRequest Request, StoredSource Stored, SourceManifest Manifest, bool ReadAnew, FieldDictionary Dictionary)
{
    internal const string IndexFile = "rows.bin";
    internal const string FindingsFile = "findings.bin";
    internal const string OriginsFile = "origins.bin";

    /// <summary>True when the store held it with other bytes than it was left with, so that it was read once more.</summary>
    public bool WasDamaged { get; init; }

    public string IndexPath => Path.Combine(Stored.Folder, IndexFile);

    public string FindingsPath => Path.Combine(Stored.Folder, FindingsFile);

    /// <summary>The line in its origin of every row of a mended file.</summary>
    public string OriginsPath => Path.Combine(Stored.Folder, OriginsFile);
}
