using System.Collections.Immutable;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Why a chart has no limits yet.</summary>
public enum NoLimits
{
    /// <summary>No baseline is declared.</summary>
    NotDeclared,

    /// <summary>The whole period is its own baseline, so that points would be judged by themselves.</summary>
    WholePeriod,

    /// <summary>The declared baseline is shorter than 12 months.</summary>
    ShortBaseline,

    /// <summary>No whole month follows the baseline yet.</summary>
    NotOver,

    /// <summary>Fewer baseline cases than limits need.</summary>
    TooFew,

    /// <summary>All or none in the baseline; limits would be those of certainty.</summary>
    NoVariation,
}

/// <summary>What a control chart is of.</summary>
public enum Charted
{
    /// <summary>Records that met a measure out of those eligible.</summary>
    Proportion,

    /// <summary>Records a calendar day.</summary>
    Volume,
}

/// <summary>What one month holds of a control chart.</summary>
/// <param name="Month">The month.</param>
/// <param name="Numerator">Met, or records.</param>
/// <param name="Denominator">Eligible records or calendar days.</param>
public readonly record struct ChartedMonth(Month Month, long Numerator, long Denominator);

/// <summary>One thing that is charted month by month about a baseline.</summary>
public sealed record ControlChartFigures
{
    /// <summary>The measure's id, or <see cref="VolumeId"/>.</summary>
    public required string Id { get; init; }

    public required string Title { get; init; }

    public required Charted Charted { get; init; }

    /// <summary>The measure; null for the volume.</summary>
    public MeasureFigures? Measure { get; init; }

    public ImmutableArray<ChartedMonth> Months { get; init; } = [];

    /// <summary>A chart a phase, in order of time: exact limits of a proportion or a rate.</summary>
    public required ImmutableArray<PhaseChart> Phases { get; init; }

    /// <summary>The same with limits as wide as the baseline's neighbours vary, where months vary more than chance; else empty.</summary>
    public ImmutableArray<PhaseChart> Wider { get; init; } = [];

    public const string VolumeId = "procedures_a_day";

    /// <summary>The chart of the phase that the report month lies in: the one that is put into words.</summary>
    public ControlChart Last => Phases[^1].Chart;

    /// <summary>The months of the last phase's baseline.</summary>
    public (Month From, Month To) Baseline => Last.Points.Where(point => point.InBaseline).ToArray() is [.., var last] points
        ? (Months[points[0].Position].Month, Months[last.Position].Month)
        : (Months[Last.Points[0].Position].Month, Months[Last.Points[0].Position].Month);

    /// <summary>Months after the baseline of the last phase that lie outside its exact limits.</summary>
    public IEnumerable<Month> Outside => Beyond(Last);

    /// <summary>The same for the wider limits; empty where they are not shown.</summary>
    public IEnumerable<Month> OutsideWider => Wider.IsEmpty ? [] : Beyond(Wider[^1].Chart);

    private IEnumerable<Month> Beyond(ControlChart chart) =>
        chart.Points.Where(point => point.Beyond && !point.InBaseline).Select(point => Months[point.Position].Month);
}

/// <summary>The control charts of a run, and what has none.</summary>
/// <param name="Why">Why nothing has one; null where something may.</param>
/// <param name="Charts">Headline measures, then the volume.</param>
/// <param name="Without">What has none, and why, by its title.</param>
/// <param name="LeftOut">The report month where it is not over: it is in no chart.</param>
public sealed record ControlCharts(
    NoLimits? Why, ImmutableArray<ControlChartFigures> Charts, ImmutableArray<(string Title, NoLimits Why)> Without, Month? LeftOut)
{
    /// <summary>As for the monthly test, limits start with a baseline of so many months and eligible cases.</summary>
    public const int LeastMonths = 12, LeastCases = 40;
}
