using Outcomes.Statistics;

namespace Outcomes.Tests;

public class PlannedComparisonTests
{
    public static TheoryData<string> Fixtures => Check.Ids("planned_comparison.json");

    private static EventCount[] Alike(int months, int events, int cases) => [.. Enumerable.Repeat(new EventCount(events, cases), months)];

    /// <summary>The project's own agreed numbers, from a reference in numpy and SciPy written apart from this code.</summary>
    [Theory]
    [MemberData(nameof(Fixtures))]
    public void Interval_equals_the_reference(string id)
    {
        var check = Check.Find("planned_comparison.json", id);
        EventCount[] Side(string side) => [.. check.Inputs[$"{side}_events"]!.AsArray().Zip(check.Inputs[$"{side}_cases"]!.AsArray(),
            (events, cases) => new EventCount(events!.GetValue<int>(), cases!.GetValue<int>()))];
        var found = VaryingDifference.Estimate(Side("before"), Side("after"))!;
        check.Holds(("difference", found.Value), ("lower", found.Lower), ("upper", found.Upper),
            ("dispersion", found.Dispersion.Ratio!.Value), ("used", found.Dispersion.Used), ("df", found.Dispersion.Degrees),
            ("t", found.Quantile));
    }

    [Fact]
    public void With_very_many_months_that_do_not_vary_it_is_the_published_interval_of_Newcombe()
    {
        // 56/70 − 48/80: 0.0524 to 0.3339 (Newcombe RG. Stat Med 1998;17:873-890, table II, method 10). One case a month, its events
        // spread evenly: then Pearson's statistic is just below its degrees of freedom, and t with 148 of them is 1.976 for 1.960.
        EventCount[] Side(int events, int cases) => [.. Enumerable.Range(0, cases).Select(i => new EventCount(i < events ? 1 : 0, 1))];
        var found = VaryingDifference.Estimate(Side(48, 80), Side(56, 70))!;
        Assert.Equal(148, found.Dispersion.Degrees);
        Assert.Equal(1, found.Dispersion.Used, 0.02);
        Assert.Equal(0.2, found.Value, 1e-12);
        Assert.Equal(0.0524, found.Lower, 0.002);
        Assert.Equal(0.3339, found.Upper, 0.002);
        // With the normal quantile itself and no dispersion, to the printed digits.
        var exact = VaryingDifference.Estimate(new(48, 80), new(56, 70), new(1, 148), Normal.Z95, 0.95)!;
        Assert.Equal(0.0524, exact.Lower, 5e-5);
        Assert.Equal(0.3339, exact.Upper, 5e-5);
    }

    [Theory]
    [InlineData(12, 3, 12, 3, PlannedState.TooFew)]
    [InlineData(12, 10, 3, 13, PlannedState.TooFew)]
    [InlineData(12, 10, 4, 10, PlannedState.Unclear)]
    public void Fewer_than_40_cases_on_a_side_are_too_few(int before, int casesBefore, int after, int casesAfter, PlannedState state)
    {
        var found = PlannedComparison.Compare(Alike(before, 2, casesBefore), Alike(after, 2, casesAfter));
        Assert.Equal(state, found.State);
        Assert.Equal(state == PlannedState.TooFew, found.Difference is null);
        Assert.Equal((before * casesBefore, after * casesAfter), (found.Before.Cases, found.After.Cases));
    }

    [Fact]
    public void No_event_on_either_side_is_too_few_and_none_on_one_side_is_not()
    {
        Assert.Equal(PlannedState.TooFew, PlannedComparison.Compare(Alike(12, 0, 10), Alike(12, 0, 10)).State);
        Assert.Equal(PlannedState.Lower, PlannedComparison.Compare(Alike(12, 1, 10), Alike(12, 0, 10)).State);
    }

    [Fact]
    public void Events_that_double_are_higher_and_turned_round_lower()
    {
        EventCount[] few = Alike(12, 2, 20), many = Alike(12, 5, 20);
        Assert.Equal(PlannedState.Higher, PlannedComparison.Compare(few, many).State);
        Assert.Equal(PlannedState.Lower, PlannedComparison.Compare(many, few).State);
    }

    [Fact]
    public void Sides_turned_round_or_successes_for_failures_only_change_the_sign()
    {
        EventCount[] before = [new(3, 14), new(4, 15), new(0, 0), new(9, 22)], after = [new(1, 13), new(6, 16), new(2, 11)];
        var found = VaryingDifference.Estimate(before, after)!;
        var turned = VaryingDifference.Estimate(after, before)!;
        EventCount[] Others(EventCount[] months) => [.. months.Select(month => new EventCount(month.Cases - month.Events, month.Cases))];
        var others = VaryingDifference.Estimate(Others(before), Others(after))!;
        foreach (var other in (VaryingDifferenceEstimate[])[turned, others])
        {
            Assert.Equal((found.Value, found.Lower, found.Upper), (-other.Value, -other.Upper, -other.Lower),
                (a, b) => Math.Abs(a.Item1 - b.Item1) + Math.Abs(a.Item2 - b.Item2) + Math.Abs(a.Item3 - b.Item3) < 1e-12);
            Assert.Equal(found.Dispersion.Ratio!.Value, other.Dispersion.Ratio!.Value, 1e-12);
        }
    }

    [Fact]
    public void Months_that_vary_widen_the_interval_and_their_order_does_not_matter()
    {
        EventCount[] even = Alike(12, 4, 20), uneven = [.. Enumerable.Range(0, 12).Select(i => new EventCount(i % 2 == 0 ? 0 : 8, 20))];
        double Width(EventCount[] before) => VaryingDifference.Estimate(before, even)! is var found ? found.Upper - found.Lower : 0;
        Assert.True(Width(uneven) > 1.5 * Width(even));
        Assert.Equal(Width(uneven), Width([.. uneven.Reverse()]), 1e-12);
        Assert.Equal(Width(uneven), Width([.. uneven, default]), 1e-12);
    }

    [Fact]
    public void An_interval_needs_a_case_on_each_side_and_possible_counts()
    {
        Assert.Null(VaryingDifference.Estimate([], Alike(3, 1, 5)));
        Assert.Throws<ArgumentOutOfRangeException>(() => VaryingDifference.Estimate([new(3, 2)], Alike(3, 1, 5)));
        Assert.Throws<ArgumentOutOfRangeException>(() => PlannedComparison.Compare(Alike(3, 1, 5), Alike(3, 1, 5), 1));
    }
}
