using Outcomes.Analysis;
using Outcomes.Measures.Review;
using Outcomes.Records;

namespace Outcomes.Tests.Analysis;

/// <summary>The meeting's times by its rule; the expected minutes are sums by hand.</summary>
public sealed class MeetingAgendaTests
{
    [Fact]
    public void A_meeting_without_cases_or_actions_has_the_figures_and_the_close()
    {
        var agenda = MeetingAgenda.Plan(Pack(), openActions: 0);
        Assert.Equal([(AgendaPart.Headline, 0, 5), (AgendaPart.Close, 5, 10)],
            agenda.Items.Select(item => (item.Part, item.Start, item.End)));
        Assert.Equal(10, agenda.Total);
        Assert.Empty(agenda.NotDiscussed);
    }

    [Fact]
    public void Every_tier_1_case_has_ten_minutes_and_parts_follow_each_other_without_a_gap()
    {
        var agenda = MeetingAgenda.Plan(Pack(CaseKind.Drawn, CaseKind.One, CaseKind.One, CaseKind.Learning), openActions: 3);
        Assert.Equal([5, 3, 20, 3, 2, 5], agenda.Items.Select(item => item.Minutes));
        Assert.Equal([null, null, CaseKind.One, CaseKind.Learning, CaseKind.Drawn, null], agenda.Items.Select(item => item.Kind));
        Assert.Equal(agenda.Items.Skip(1).Select(item => item.Start), agenda.Items.SkipLast(1).Select(item => item.End));
        Assert.Equal(38, agenda.Total);
    }

    [Fact]
    public void Of_eight_tier_2_cases_the_first_five_by_id_are_discussed_and_the_rest_named()
    {
        var agenda = MeetingAgenda.Plan(Pack([.. Enumerable.Repeat(CaseKind.Two, 8)]), openActions: 0);
        var told = agenda.Items.Single(item => item.Part == AgendaPart.Cases);
        Assert.Equal((15, "C0 C1 C2 C3 C4"), (told.Minutes, string.Join(' ', told.Cases)));
        Assert.Equal(["C5", "C6", "C7"], agenda.NotDiscussed);
    }

    [Fact]
    public void Trends_and_doubtful_data_have_no_time_of_their_own() =>
        Assert.Equal(10, MeetingAgenda.Plan(Pack(CaseKind.Three, CaseKind.Data), openActions: 0).Total);

    // Ids run against the order of the pack, so that an agenda in the pack's order would be seen.
    private static CasePack Pack(params CaseKind[] kinds) => new()
    {
        PipelineName = "harbour",
        Month = new Month(2026, 3),
        Records = 20,
        Cases = [.. kinds.Select((kind, i) => new ReviewCase($"C{kinds.Length - 1 - i}", kind, []) { HasPage = CaseKinds.HasPage(kind) })],
    };
}
