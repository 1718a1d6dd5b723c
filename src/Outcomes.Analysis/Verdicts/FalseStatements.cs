using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>
/// How many statements of change a report makes by chance in a year of monthly reports, in a department where nothing changes. Expected
/// numbers add, so that tests of the same cases need no correction.
/// </summary>
/// <param name="MonthlyTests">By the monthly test, at most: the budget of three years, a third of it.</param>
/// <param name="Evaluations">By the planned evaluations of the 12 months that end with the report month, 5 % a change.</param>
/// <param name="YearlyComparisons">By the yearly comparisons of rare events: exactly, given how many events there were.</param>
public sealed record FalseStatements(double MonthlyTests, double Evaluations, double YearlyComparisons)
{
    /// <summary>No report makes more.</summary>
    public const double Most = 0.2;

    private const double OfChange = 0.05;

    /// <summary>The years for which the budget of the monthly test is stated.</summary>
    private const double BudgetYears = 3;

    // With more events the test comes so near to its level that the level is taken.
    private const long ManyEvents = 100;

    public double Total => MonthlyTests + Evaluations + YearlyComparisons;

    /// <summary>Changes that may be evaluated within 12 months, so that a report stays within <see cref="Most"/>.</summary>
    public static int MostChanges(Pace pace) => pace == Pace.Faster ? 2 : 3;

    /// <summary>The expected numbers of a report.</summary>
    /// <param name="plan">The pace and the month.</param>
    /// <param name="measures">The measures with their signals and yearly comparisons.</param>
    /// <param name="evaluations">The planned evaluations.</param>
    public static FalseStatements Expect(
        AnalysisPlan plan, ImmutableArray<MeasureFigures> measures, ImmutableArray<ChangeEvaluation> evaluations)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return new(
            measures.Sum(measure => measure.Signal is { State: not ChangeState.TooFewToJudge } signal ? signal.FalseAlarm : 0)
                / BudgetYears,
            OfChange * evaluations.Where(each => each.Due <= plan.Month && plan.Month.MonthsSince(each.Due) < 12)
                .Select(each => each.Change).Distinct().Count(),
            measures.Sum(measure => measure.Rare is { } rare ? ChanceBeyond(rare) : 0));
    }

    // The chance of a p value below the level, over all ways in which as many events could have fallen into the two periods.
    private static double ChanceBeyond(RareYear rare)
    {
        if (rare.Year is null || rare.YearCount.Eligible == 0 || rare.BeforeCount.Eligible == 0)
            return 0;
        var (year, before) = (rare.YearCount, rare.BeforeCount);
        var met = year.Met + before.Met;
        // Whichever of met and not met is rarer is walked through: a handful of events.
        var (events, rarerIsMet) = 2 * met <= year.Eligible + before.Eligible
            ? (met, true) : (year.Eligible + before.Eligible - met, false);
        if (events > ManyEvents)
            return rare.Level;
        var chance = 0.0;
        for (var inYear = Math.Max(0, events - before.Eligible); inYear <= Math.Min(events, year.Eligible); inYear++)
        {
            var (one, other) = (Side(inYear, year.Eligible), Side(events - inYear, before.Eligible));
            if (FisherExact.Test(one, other) is { } test && test.TwoSided < rare.Level)
                chance += 2 * (test.TwoSided - test.TwoSidedMidP);
        }

        return chance;

        Count Side(long number, long eligible) => new(rarerIsMet ? number : eligible - number, eligible, 0);
    }
}
