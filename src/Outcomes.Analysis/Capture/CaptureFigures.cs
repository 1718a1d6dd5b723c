using System.Collections.Immutable;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Records against an independent count of the same procedures.</summary>
/// <param name="From">First month.</param>
/// <param name="To">Last month.</param>
/// <param name="Site">The site's code; empty for all.</param>
/// <param name="Records">Accepted records of the months that have a count.</param>
/// <param name="Counted">Procedures counted independently.</param>
/// <param name="MonthsCounted">Months that have a count.</param>
/// <param name="Source">What was counted.</param>
public sealed record CaptureRatio(Month From, Month To, string Site, long Records, long Counted, int MonthsCounted, string Source)
{
    /// <summary>Below it the figures may describe those whom somebody remembered to enter.</summary>
    public const double Least = 0.8;

    public int Months => To.MonthsSince(From) + 1;

    /// <summary>Records over the independent count; null where nothing was counted.</summary>
    public double? Value => Counted == 0 ? null : (double)Records / Counted;

    /// <summary>
    /// The 95 % Wilson interval of a share, each record taken as one of those counted; null where nothing was counted, and where more were
    /// recorded than counted: then it is no share.
    /// </summary>
    public Bounds? Interval => Counted == 0 || High ? null : Wilson.Interval(Records, Counted);

    public bool Low => Value < Least;

    /// <summary>More recorded than counted.</summary>
    public bool High => Records > Counted;
}

/// <summary>The capture of a run.</summary>
/// <param name="File">The file of independent counts, as the pipeline writes it.</param>
/// <param name="Year">The last 12 months, or as many as there are; null when none of them has a count.</param>
/// <param name="Months">Each month that has a count.</param>
/// <param name="Sites">Each site's last 12 months, where the file has sites.</param>
public sealed record CaptureFigures(
    string File, CaptureRatio? Year, ImmutableArray<CaptureRatio> Months, ImmutableArray<CaptureRatio> Sites);
