using Outcomes.Records;

namespace Outcomes.Ingestion;

/// <summary>A source that has been read: its place in the store and what reading it found.</summary>
/// <param name="Request">What was asked for.</param>
/// <param name="Stored">Its Parquet files.</param>
/// <param name="Manifest">Its manifest.</param>
/// <param name="ReadAnew">False when the store already held it.</param>
public sealed record IngestedSource(SourceRequest Request, StoredSource Stored, SourceManifest Manifest, bool ReadAnew)
{
    internal const string IndexFile = "rows.bin";
    internal const string FindingsFile = "findings.bin";
    internal const string ConvertedFile = "source.csv";
    internal const string OriginsFile = "origins.bin";

    public string IndexPath => Path.Combine(Stored.Folder, IndexFile);

    /// <summary>The text that the places of rows lie in: the file itself, or its conversion in the store.</summary>
    public string TextPath => Manifest.Converted ? Path.Combine(Stored.Folder, ConvertedFile) : Request.Path;

    public string FindingsPath => Path.Combine(Stored.Folder, FindingsFile);

    /// <summary>The line in its origin of every row of a mended file.</summary>
    public string OriginsPath => Path.Combine(Stored.Folder, OriginsFile);
}
