using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;
using Outcomes.Records;
using Outcomes.Reporting;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting.Meeting;

public sealed class MeetingWordingTests
{
    [Theory]
    [InlineData(0, "")]
    [InlineData(1, "1 more case is listed without a time; anyone may ask for it.")]
    [InlineData(3, "3 more cases are listed without a time; anyone may ask for one.")]
    public void Cases_without_a_time_are_counted(int cases, string said) =>
        Assert.Equal(said, MeetingWording.NotDiscussed(cases).Replace('\u00a0', ' '));

    [Theory]
    [InlineData(1, "1 minute in all.")]
    [InlineData(60, "60 minutes in all.")]
    [InlineData(61, "61 minutes in all. That is more than 60: keep tier 1 in this meeting and hold a second one for the rest.")]
    public void A_meeting_over_an_hour_is_told_to_split(int minutes, string said) => Assert.Equal(said,
        MeetingWording.Length(new([new(AgendaPart.Headline, 0, minutes)], [])).Replace('\u00a0', ' '));

    [Fact]
    public void Times_are_hours_and_minutes_from_the_start() =>
        Assert.Equal("0:55 to 1:05", MeetingWording.Times(new(AgendaPart.Close, 55, 10)));

    [Fact]
    public void A_standard_not_met_an_event_and_an_answer_not_recorded_are_asked_for_in_their_own_way()
    {
        CaseMeasure Asked(string title, Direction direction, Answer answer) =>
            new(new(title, title) { Eligible = "adult", Met = "adult", Direction = direction }, answer);
        var questions = MeetingWording.Questions(CaseKind.One, CaseStandards.None with
        {
            Expected = [Asked("Checklist completed", Direction.Up, Answer.NotMet), Asked("Arrest", Direction.Down, Answer.Met)],
            NotRecorded = [Asked("Capnography", Direction.Up, Answer.Missing)],
        });
        Assert.Equal(
        [
            "Checklist completed: not met. What stood in the way?", "Arrest: what would have prevented it, or made it less?",
            "Capnography: not recorded. What happened, and who records it next time?", "What would help the next team in the same place?",
        ], questions);
    }

    [Theory]
    [InlineData(CaseKind.Learning, "What made it go well, and how can the next team have it too?")]
    [InlineData(CaseKind.Drawn, "Is there anything here that the flags miss?")]
    public void A_case_that_went_well_or_was_drawn_has_a_question_of_its_own(CaseKind kind, string question) =>
        Assert.Equal(question, Assert.Single(MeetingWording.Questions(kind, CaseStandards.None)));

    [Fact]
    public void A_side_of_an_action_is_a_count_and_says_where_there_are_fewer_months_or_none()
    {
        var (from, to) = (new Month(2025, 7), new Month(2025, 12));
        Assert.Equal("31/42 in July 2025 to December 2025", Side((from, to), new(31, 42, 0)));
        Assert.Equal("31/42 in July 2025 to December 2025; 2 missing", Side((from, to), new(31, 42, 2)));
        Assert.Equal("3/4 in July 2025 (1 month)", Side((from, from), new(3, 4, 0)));
        Assert.Equal("none eligible in July 2025 to August 2025 (2 months)", Side((from, from.AddMonths(1)), default));
        Assert.Equal("no whole month", Side(null, default));
    }

    // Whether a measure changed is said by its verdict alone.
    [Fact]
    public void Counts_before_and_after_are_given_for_context_without_a_verdict() =>
        Assert.EndsWith("for context, no verdict", ActionWording.FollowedTitle, StringComparison.Ordinal);

    [Theory]
    [InlineData(0, "")]
    [InlineData(1, "case C0")]
    [InlineData(2, "cases C0, C1")]
    public void An_action_says_which_cases_it_came_from(int cases, string said) => Assert.Equal(said, ActionWording.From(
        new("a", "Do it", "airway lead", new(2026, 5, 1), null, new(2026, 1, 1), null, null)
        {
            Cases = [.. Enumerable.Range(0, cases).Select(i => $"C{i}")],
        }));

    private static string Side((Month From, Month To)? span, Count count) => ActionWording.Side(span, count).Replace('\u00a0', ' ');
}
