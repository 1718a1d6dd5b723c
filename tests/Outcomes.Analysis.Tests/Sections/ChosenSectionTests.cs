using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Tests.Analysis.Sections;

/// <summary>The section of the month is chosen by a rule, and by nothing that a person could turn.</summary>
public class ChosenSectionTests
{
    private static readonly Measure Measure = new("measure", "Measure") { Eligible = "true", Met = "true" };

    [Fact]
    public void The_difference_that_lies_farthest_from_none_wins_whatever_its_sign()
    {
        // 30 of 40 against 10 of 40 is far from none; 3 of 3 against 0 of 3 differs by more, and its interval comes nearer to none.
        var small = Section("small", SectionPlace.Turn, (3, 3), (0, 3));
        var large = Section("large", SectionPlace.Turn, (10, 40), (30, 40));
        var none = Section("none", SectionPlace.Turn, (20, 40), (20, 40));
        var chosen = ChosenSection.Choose([small, none, large], captureFell: false, new(2026, 3))!;
        Assert.Equal((ChosenReason.ClearestDifference, "large", 3), (chosen.Reason, chosen.Section!.Id, chosen.Compared));
        Assert.Equal(large.Differences[0], chosen.Difference);
    }

    [Fact]
    public void Where_no_difference_stands_out_every_section_has_its_turn()
    {
        SectionFigures[] sections =
            [Section("a", SectionPlace.Turn, (20, 40), (20, 40)), Section("b", SectionPlace.Turn, (5, 40), (6, 40)),
                Section("c", SectionPlace.Turn, (5, 40), (5, 40))];
        var turns = Enumerable.Range(0, 6)
            .Select(i => ChosenSection.Choose([.. sections], false, new Month(2026, 1).AddMonths(i))!).ToArray();
        Assert.All(turns, chosen => Assert.Equal((ChosenReason.Turn, null), (chosen.Reason, chosen.Difference)));
        Assert.Equal(["a", "b", "c"], turns.Take(3).Select(chosen => chosen.Section!.Id).Order());
        Assert.Equal(turns.Take(3).Select(chosen => chosen.Section!.Id), turns.Skip(3).Select(chosen => chosen.Section!.Id));
    }

    [Fact]
    public void Capture_that_fell_comes_before_everything()
    {
        var chosen = ChosenSection.Choose([Section("a", SectionPlace.Turn, (0, 40), (40, 40))], captureFell: true, new(2026, 3))!;
        Assert.Equal((ChosenReason.CaptureFell, null), (chosen.Reason, chosen.Section));
    }

    [Theory]
    [InlineData(SectionPlace.Report)]
    [InlineData(SectionPlace.Appendix)]
    public void Only_sections_that_take_turns_are_chosen(SectionPlace place) =>
        Assert.Null(ChosenSection.Choose([Section("a", place, (0, 40), (40, 40))], false, new(2026, 3)));

    private static SectionFigures Section(string id, SectionPlace place, (long Met, long Of) yes, (long Met, long Of) no)
    {
        var (first, second) = (new Count(yes.Met, yes.Of, 0), new Count(no.Met, no.Of, 0));
        return new(new SectionDefinition(id, id, "?") { Place = place }, new(2025, 4), new(2026, 3))
        {
            Measures = [new(Measure, first + second, null, [StratumFigures.Of("field", [("yes", first), ("no", second)], (_, _) => null)])],
            Differences = [new(Measure, "field", "yes", "no", Difference.Newcombe(first, second)!)],
        };
    }
}
