using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>The run chart of a measure: one phase, and one more for each declared change that starts one.</summary>
internal static class MeasurePhases
{
    private const int Replicates = 2_000;

    /// <summary>The phases with their simulated chances.</summary>
    // The seed is fixed: a chance that was printed once is printed again from the same counts.
    public static ImmutableArray<RunChart> Of(DepartmentCounts department, Measure measure, Series series) =>
        Analyse(department, measure, series, SplitMix64.Uniform(20_140_101));

    /// <summary>Why the last phase is not tested: known without any simulation.</summary>
    public static Untested Untested(DepartmentCounts department, Measure measure, Series series) =>
        Analyse(department, measure, series, uniform: null)[^1].Untested;

    private static ImmutableArray<RunChart> Analyse(DepartmentCounts department, Measure measure, Series series, Func<double>? uniform)
    {
        var baseline = department.Plan.Baseline;
        int[] starts = [.. department.Plan.ChangesOf(measure).Where(change => change.NewPhase)
            .Select(change => change.FirstWhole.MonthsSince(department.Book.First)).Distinct()];
        return RunChartPhases.Analyse(series, starts, new RunChartOptions
        {
            BaselineFrom = baseline is var (from, _) ? Math.Clamp(from.MonthsSince(department.Book.First), 0, series.Counts.Length - 1) : 0,
            BaselineMonths = department.Plan.WholeBaseline ? int.MaxValue : baseline is var (_, months) ? months : 12,
            Span = department.Plan.Span,
            Uniform = uniform,
            Replicates = Replicates,
        });
    }
}
