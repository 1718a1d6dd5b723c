using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting;

namespace Outcomes.Tests.Reporting.Model;

/// <summary>Expected values follow from the rule that the page prints.</summary>
public sealed class CaseStandardsTests
{
    private static readonly Flag Deep = new("deep", Tier.Two, "x") { Standards = ["preox", "head_up"] };
    private static readonly Flag Long = new("long", Tier.Two, "x") { Standards = ["head_up", "senior"] };
    private static readonly HashSet<string> Headline = ["h0", "h1", "preox"];

    [Fact]
    public void Standards_of_the_flags_come_first_in_the_flags_order_then_headline_measures_and_the_rest_is_counted()
    {
        var told = Of(["h0", "h1", "head_up", "other", "preox", "senior", "spare"], _ => Answer.Met, Deep, Long);
        Assert.Equal(["preox", "head_up", "senior", "h0", "h1"], told.WentWell.Select(CaseWording.Title));
        Assert.Equal(2, told.MoreMet);
        Assert.Equal([$"and 2{Wording.Space}more standards met"], CaseWording.MoreMet(told));
        Assert.Empty(told.Expected);
    }

    [Fact]
    public void At_most_six_of_each_answer_are_told_and_nothing_that_was_not_met_is_only_counted()
    {
        string[] headline = [.. Enumerable.Range(0, 9).Select(i => $"k{i}")];
        var met = CaseStandards.Of([.. headline.Select(id => Up(id))], [.. headline.Select(_ => Answer.Met)], headline.ToHashSet(), []);
        Assert.Equal((6, 3), (met.WentWell.Length, met.MoreMet));
        var not = CaseStandards.Of([.. headline.Select(id => Up(id))], [.. headline.Select(_ => Answer.NotMet)], headline.ToHashSet(), []);
        Assert.Equal(6, not.Expected.Length);
        Assert.Equal(["Not met: k6", "Not met: k7", "Not met: k8"], not.AlsoNotMet.Select(CaseWording.Title));
    }

    [Fact]
    public void An_unwelcome_answer_is_told_as_happened_or_avoided_and_what_is_missing_as_not_recorded()
    {
        Measure[] measures =
        [
            Up("first"), Up("low") with { Direction = Direction.Down }, Up("arrest") with { Direction = Direction.Down }, Up("unknown"),
            Up("not_asked")
        ];
        var told = CaseStandards.Of(measures, [Answer.NotMet, Answer.Met, Answer.NotMet, Answer.Missing, Answer.NotEligible],
            measures.Select(each => each.Id).ToHashSet(), []);
        Assert.Equal(["Avoided: arrest"], told.WentWell.Select(CaseWording.Title));
        Assert.Equal(["Not met: first", "Happened: low"], told.Expected.Select(CaseWording.Title));
        Assert.Equal(["Not recorded: unknown"], told.NotRecorded.Select(CaseWording.Title));
        Assert.Equal("Why first.", told.Expected[0].Measure.Why);
        Assert.Equal(0, told.MoreMet);
    }

    [Fact]
    public void Where_none_of_those_is_met_the_others_are_still_counted()
    {
        var told = Of(["other", "spare"], _ => Answer.Met);
        Assert.Empty(told.WentWell);
        Assert.Equal([$"2{Wording.Space}other standards met"], CaseWording.MoreMet(told));
        Assert.Empty(CaseWording.MoreMet(CaseStandards.None));
    }

    [Fact]
    public void Every_standard_that_a_shipped_flag_names_is_a_proportion_with_a_direction()
    {
        Assert.Contains(FlagFile.Shipped, flag => !flag.Standards.IsEmpty);
        foreach (var (flag, id) in FlagFile.Shipped.SelectMany(flag => flag.Standards.Select(id => (flag, id))))
            Assert.True(MeasureCatalogue.Shipped.Any(measure => measure.Id == id
                && measure is { Kind: MeasureKind.Proportion, Direction: not Direction.None }), $"{flag.Id}: {id}");
    }

    private static CaseStandards Of(string[] ids, Func<string, Answer> answer, params Flag[] flags) =>
        CaseStandards.Of([.. ids.Select(Up)], [.. ids.Select(answer)], Headline, flags);

    private static Measure Up(string id) => new(id, id) { Eligible = "x", Met = "x", Direction = Direction.Up, Why = $"Why {id}." };
}
