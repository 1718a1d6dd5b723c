using Outcomes.Analysis;
using Outcomes.Records;

namespace Outcomes.Tests.Analysis;

public sealed class MeetingLearningTests
{
    private static readonly MeetingLearning
        January = new(new Month(2026, 1), new(2026, 2, 10), ["Bring both."]),
        February = new(new Month(2026, 2), new(2026, 3, 10), ["Say it aloud."]);

    [Fact]
    public void The_last_meeting_is_the_latest_about_an_earlier_month_that_was_held_by_then()
    {
        Assert.Equal(February, Last(3, new(2026, 3, 31), January, February));
        Assert.Equal(January, Last(3, new(2026, 3, 9), January, February));
        // A meeting's own page made again does not repeat what it wrote itself.
        Assert.Equal(January, Last(2, new(2026, 3, 31), January, February));
        Assert.Null(Last(1, new(2026, 3, 31), January, February));
    }

    [Fact]
    public void A_last_meeting_that_wrote_nothing_does_not_bring_back_what_an_older_one_wrote() =>
        Assert.Null(Last(3, new(2026, 3, 31), January, February with { Points = [] }));

    private static MeetingLearning? Last(int month, DateOnly asOf, params MeetingLearning[] meetings) =>
        MeetingLearning.Last(meetings, new Month(2026, month), asOf);
}
