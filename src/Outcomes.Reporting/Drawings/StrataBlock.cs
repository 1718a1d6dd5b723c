using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Drawings;

/// <summary>Rows of a drawing under one heading: the levels of a stratum, or the groups of a measure.</summary>
/// <param name="Id">The stratum's field or the measure's id: it names the slide that begins with the block.</param>
/// <param name="Title">Its heading.</param>
/// <param name="Rows">Its rows, in order.</param>
public sealed record StrataBlock(string Id, string Title, ImmutableArray<StrataRow> Rows)
{
    /// <summary>A stratum with its levels.</summary>
    public static StrataBlock Of(StratumFigures stratum, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(stratum);
        ArgumentNullException.ThrowIfNull(titles);
        return new(stratum.Field, titles.Column(stratum.Field), [.. stratum.Levels.Select(level =>
            new StrataRow(LevelWording.Of(titles, stratum.Field, level), level.Count, level.Estimate))]);
    }
}

/// <summary>One row: what it is, its count, and its estimate where there is one.</summary>
public sealed record StrataRow(string Label, Count Count, Estimate? Estimate);
