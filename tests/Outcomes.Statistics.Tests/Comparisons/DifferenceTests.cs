using System.Text.Json.Nodes;
using CsCheck;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class DifferenceTests
{
    private const string File = "difference.json";

    public static TheoryData<string> Newcombe => Check.Ids(File, "difference_newcombe");

    public static TheoryData<string> Wald => Check.Ids(File, "difference_wald_cc");

    private static readonly Gen<Count> AnyCount = WilsonTests.AnyCount.Select(pair => new Count(pair.Met, pair.Eligible, 0));

    [Theory]
    [MemberData(nameof(Newcombe))]
    public void Hybrid_score_interval_equals_published_and_recomputed_ones(string id) =>
        Holds(id, (first, second) => Difference.Newcombe(first, second));

    [Theory]
    [MemberData(nameof(Wald))]
    public void Continuity_corrected_interval_equals_the_one_trials_printed(string id) =>
        Holds(id, (first, second) => Difference.WaldContinuityCorrected(first, second));

    [Fact]
    public void Swapping_the_groups_turns_the_sign() => Gen.Select(AnyCount, AnyCount).Sample((first, second) =>
    {
        var one = Difference.Newcombe(first, second)!;
        var other = Difference.Newcombe(second, first)!;
        Assert.Equal(one.Value, -other.Value, 1e-14);
        Assert.Equal(one.Lower, -other.Upper, 1e-14);
        Assert.Equal(one.Upper, -other.Lower, 1e-14);
        Assert.True(one.Lower >= -1 && one.Lower <= one.Value && one.Value <= one.Upper && one.Upper <= 1);
    });

    [Fact]
    public void A_group_with_nothing_eligible_leaves_no_difference()
    {
        var some = new Count(1, 2, 0);
        var none = new Count(0, 0, 3);
        Assert.Null(Difference.Newcombe(some, none));
        Assert.Null(Difference.Newcombe(none, some));
        Assert.Null(Difference.WaldContinuityCorrected(none, some));
        Assert.Null(Difference.WaldContinuityCorrected(some, none));
    }

    [Fact]
    public void The_corrected_wald_interval_is_cut_to_the_possible()
    {
        var all = Difference.WaldContinuityCorrected(new Count(10, 10, 0), new Count(0, 20, 0))!;
        Assert.Equal(1, all.Upper);
        Assert.Equal(1 - 0.075, all.Lower, 1e-15);
    }

    private static void Holds(string id, Func<Count, Count, DifferenceEstimate?> difference)
    {
        var check = Check.Find(File, id);
        var estimate = difference(Group(check.Inputs["first"]!), Group(check.Inputs["second"]!))!;
        check.Holds(("value", estimate.Value), ("lower", estimate.Lower), ("upper", estimate.Upper));
    }

    private static Count Group(JsonNode node) => new(node["met"]!.GetValue<long>(), node["eligible"]!.GetValue<long>(), 0);
}
