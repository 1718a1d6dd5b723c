using System.Collections.Immutable;

namespace Outcomes.Ingestion.Reading;

/// <summary>Where the rows of a mended quarantine file came from.</summary>
/// <param name="Order">The order of the source whose rows are taken from it.</param>
/// <param name="File">That source's file: rows of any other origin lie outside this source's table.</param>
/// <param name="Files">Every file of the pipeline: a row of yet another origin belongs to nothing, and refuses the file.</param>
public sealed record MendedOrigin(int Order, string File, ImmutableArray<string> Files);
