using System.Collections.Immutable;

namespace Outcomes.Ingestion.Reading;

/// <summary>One row of a sample: its physical line and its cells, trimmed.</summary>
public readonly record struct SampleRow(int Line, ImmutableArray<string> Cells);
