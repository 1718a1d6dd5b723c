using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Tests.Analysis;

/// <summary>How many statements of change a report makes by chance, and when missing records turn an evaluation.</summary>
public sealed class FalseStatementsTests
{
    private static readonly Measure Event = new("event", "Event") { Eligible = "adult", Met = "spo2_min < 90", Direction = Direction.Down };

    private static readonly AnalysisPlan Plan = new()
    {
        Name = "harbour",
        Definitions = new(FieldDictionary.Shipped, [Event], [], [], ""),
        Month = new(2026, 3),
        AsOf = new(2026, 3, 31),
    };

    [Theory]
    // Three events in two periods of 20: all in one of them has a chance of 2 * C(20,3)/C(40,3) = 2 * 1140/9880 = 0.2308, by hand, and
    // each other split of more than that; the p value of all in one is the same number.
    [InlineData(0.25, 2280.0 / 9880)]
    [InlineData(0.2, 0)]
    public void A_yearly_comparison_errs_as_often_as_its_p_value_can_fall_below_its_level(double level, double chance)
    {
        var rare = new RareYear(new(2027, 3), (new(2025, 4), new(2026, 3)), new(3, 20, 0), new(0, 20, 0), null, level);
        var found = FalseStatements.Expect(Plan, [new() { Measure = Event, Rare = rare }], []);
        Assert.Equal((0.0, 0.0), (found.MonthlyTests, found.Evaluations));
        Assert.Equal(chance, found.YearlyComparisons, 1e-12);
        // Counted by those without the event, it is the same.
        var other = FalseStatements.Expect(Plan,
            [new() { Measure = Event, Rare = rare with { YearCount = new(17, 20, 0), BeforeCount = new(20, 20, 0) } }], []);
        Assert.Equal(chance, other.YearlyComparisons, 1e-12);
    }

    [Fact]
    public void A_change_spends_one_in_twenty_in_the_year_of_its_evaluation_however_many_measures_it_names()
    {
        DeclaredChange Change(string what) => new(new(2025, 1, 1), what, ["event", "other"], Direction.Down, NewPhase: false, "");
        var (a, b) = (Change("A"), Change("B"));
        ChangeEvaluation Due(int year, DeclaredChange change) =>
            new(change, Event, EvaluationState.Unclear, null, null, default, default, new(year, 3), null);
        Assert.Equal(0.05, FalseStatements.Expect(Plan, [], [Due(2026, a), Due(2026, a)]).Total, 1e-12);
        Assert.Equal(0.10, FalseStatements.Expect(Plan, [], [Due(2026, a), Due(2026, b)]).Total, 1e-12);
        Assert.Equal(0, FalseStatements.Expect(Plan, [], [Due(2025, a), Due(2027, b)]).Total);
    }

    [Fact]
    public void As_many_changes_as_are_let_in_stay_within_the_budget_of_a_report()
    {
        foreach (var pace in (Pace[])[Pace.Default, Pace.Strict, Pace.Faster])
        {
            // The monthly test's budget of three years on all measures: 10, 5 and 20 % (docs/statistics/monthly-test.md).
            var monthly = (pace == Pace.Faster ? 0.2 : pace == Pace.Strict ? 0.05 : 0.1) / 3;
            Assert.True(monthly + (0.05 * FalseStatements.MostChanges(pace)) < FalseStatements.Most);
        }
    }

    [Fact]
    public void The_tipping_point_of_an_evaluation_is_the_least_number_that_lets_its_interval_hold_no_difference()
    {
        EventCount[] before = [.. Enumerable.Repeat(new EventCount(8, 20), 12)], after = [.. Enumerable.Repeat(new EventCount(4, 18), 12)];
        Count[] missing = [.. Enumerable.Repeat(new Count(4, 18, 4), 12)];
        var point = TippingPoints.Find(before, after, missing, forTheWorse: false, 0.95)!;
        Assert.Equal((48L, true), (point.Missing, point.AreFailures));
        Assert.Equal(PlannedState.Lower, Judged(point.Records - 1));
        Assert.NotEqual(PlannedState.Lower, Judged(point.Records));
        // Nothing missing, or too few of them: no number would do.
        Assert.Null(TippingPoints.Find(before, after, new Count[12], forTheWorse: false, 0.95));
        Assert.Null(TippingPoints.Find(before, after, [new Count(4, 18, 1), .. new Count[11]], forTheWorse: false, 0.95));

        // The latest months first, each with at most its four.
        PlannedState Judged(long records) => PlannedComparison.Compare(before, [.. after.Select((month, i) =>
            (int)Math.Clamp(records - (4 * (11 - i)), 0, 4) is var added ? month + new EventCount(added, added) : month)]).State;
    }

    [Fact]
    public void A_measure_without_a_better_side_is_different_after_a_change_and_never_better_or_worse()
    {
        var measure = Event with { Direction = Direction.None };
        var first = new Month(2024, 1);
        ImmutableArray<Outcomes.Measures.CountRow> rows =
            [.. first.To(new(2025, 12)).Select(month => new Outcomes.Measures.CountRow("event",
                month, "all", "all", new(month.Year == 2024 ? 4 : 14, 20, 0)))];
        var figures = Analyse.Department(new()
        {
            Plan = Plan with
            {
                Definitions = new(FieldDictionary.Shipped, [measure], [], [], ""),
                Month = new(2025, 12),
                AsOf = new(2025, 12, 31),
                Changes = [new(new(2025, 1, 1), "Invented", ["event"], Direction.Up, false, "")],
            },
            Records = rows.ToDictionary(row => row.Month, row => row.Count.Eligible),
            Counts = new(rows, [], [], []),
        });
        var verdict = figures.Measures[0].Verdict!;
        Assert.Equal((VerdictLabel.DifferentAfterChange, true), (verdict.Label, verdict.SaysChange));
    }
}
