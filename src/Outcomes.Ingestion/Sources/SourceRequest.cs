using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;

namespace Outcomes.Ingestion;

/// <summary>A source to be read.</summary>
/// <param name="Name">Its name in the pipeline.</param>
/// <param name="Order">Its place in the order of sources.</param>
/// <param name="Path">Where the file is.</param>
/// <param name="File">How messages and tables call the file: as the pipeline writes it.</param>
/// <param name="Mapping">How its columns become fields.</param>
public sealed record SourceRequest(string Name, int Order, string Path, string File, SourceMapping Mapping)
{
    /// <summary>The source whose quarantined rows this file holds, mended; null for an export.</summary>
    public MendedOrigin? Mends { get; init; }

    /// <summary>True where the export holds several rows of one key on purpose, the last of which counts.</summary>
    public bool RepeatedKeysExpected { get; init; }
}
