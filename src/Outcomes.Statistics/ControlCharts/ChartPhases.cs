using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>A stretch of a chart with a baseline of its own, from a declared change on.</summary>
/// <param name="From">0-based position where it starts.</param>
/// <param name="BaselinePoints">How many of its first points give its centre and limits.</param>
/// <param name="Reason">What was changed, in the department's words: a phase without one is refused.</param>
public sealed record ChartPhase(int From, int BaselinePoints, string Reason);

/// <summary>One phase with its chart, whose positions are those of the whole series.</summary>
public sealed record PhaseChart(ChartPhase Phase, ControlChart Chart);

/// <summary>Cuts a series into declared phases, each judged against its own baseline.</summary>
public static class ChartPhases
{
    /// <summary>Where the rule comes from.</summary>
    public const string Source = "Common practice: new limits only after a known, documented change, never because a chart looks better so";

    /// <summary>A chart for each phase. Nothing looks for phases: they are declared with a reason, or there is one.</summary>
    /// <typeparam name="T">What a point is made of.</typeparam>
    /// <param name="points">The whole series, in time order.</param>
    /// <param name="phases">In order; the first starts at 0, and each holds at least one point.</param>
    /// <param name="chart">Makes the chart of one phase from its points and baseline.</param>
    /// <returns>The phases in order; earlier ones keep the limits that they had.</returns>
    /// <exception cref="ArgumentOutOfRangeException">No phase at 0, phases out of order or beyond the points, or one without a
    /// reason.</exception>
    public static ImmutableArray<PhaseChart> Make<T>(
        ImmutableArray<T> points, ImmutableArray<ChartPhase> phases, Func<ImmutableArray<T>, ChartBaseline, ControlChart> chart)
    {
        ArgumentNullException.ThrowIfNull(chart);
        for (var i = 0; i < phases.Length; i++)
        {
            if (string.IsNullOrWhiteSpace(phases[i].Reason))
                throw new ArgumentOutOfRangeException(nameof(phases), i, "a phase needs a reason");
            if (phases[i].From < (i == 0 ? 0 : phases[i - 1].From + 1) || phases[i].From >= points.Length)
                throw new ArgumentOutOfRangeException(nameof(phases), phases[i].From,
                    "phases are in order, and each starts at one of the points");
        }
        if (phases.Length == 0 || phases[0].From != 0)
            throw new ArgumentOutOfRangeException(nameof(phases), phases.Length, "the first phase starts at the first point");
        return [.. phases.Select((phase, i) =>
        {
            var end = i + 1 < phases.Length ? phases[i + 1].From : points.Length;
            var made = chart(points[phase.From..end], new(0, phase.BaselinePoints));
            return new PhaseChart(phase,
                made with { Points = [.. made.Points.Select(point => point with { Position = point.Position + phase.From })] });
        })];
    }
}
