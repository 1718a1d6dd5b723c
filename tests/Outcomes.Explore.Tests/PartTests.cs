using Microsoft.AspNetCore.Http;
using Outcomes.Explore;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Tests.Explore;

/// <summary>The parts of the room that need no records.</summary>
public sealed class PartTests
{
    private static readonly FieldUse Location = new("location_type", FieldUseKind.Text, ["icu", "ed"]);
    private static readonly FieldUse Age = new("age_years", FieldUseKind.Number, []);
    private static readonly FieldUse Date = new("event_date", FieldUseKind.Date, []);
    private static readonly FieldUse Arrest = new("cardiac_arrest_before", FieldUseKind.YesNo, []);

    public static TheoryData<string, string, string, string> Composed => new()
    {
        { "location_type", "=", " intensive care ", "location_type = 'icu'" },
        { "location_type", "<>", "ED", "location_type <> 'ed'" },
        { "location_type", "is null", "", "location_type is null" },
        { "age_years", ">=", "60", "age_years >= 60" },
        { "age_years", "is not null", "60", "age_years is not null" },
        { "event_date", "<", "2026-01-31", "event_date < '2026-01-31'" },
        { "cardiac_arrest_before", "=", "yes", "cardiac_arrest_before" },
        { "cardiac_arrest_before", "<>", "yes", "not cardiac_arrest_before" },
        { "cardiac_arrest_before", "<>", "no", "cardiac_arrest_before" },
        { "cardiac_arrest_before", "=", "NO", "not cardiac_arrest_before" },
    };

    [Theory]
    [MemberData(nameof(Composed))]
    public void A_field_a_comparison_and_a_value_make_a_condition(string field, string comparison, string value, string condition) =>
        Assert.Equal(condition, ConditionBuilder.Compose(Use(field), comparison, value, Titles.Shipped));

    [Theory]
    [InlineData("location_type", "=", "ward 7")]
    [InlineData("location_type", ">", "icu")]
    [InlineData("location_type", "=", "icu' or true")]
    [InlineData("age_years", "=", "1 or true")]
    [InlineData("age_years", "=", "")]
    [InlineData("age_years", "like", "1")]
    [InlineData("event_date", "=", "31/01/2026")]
    [InlineData("cardiac_arrest_before", "=", "perhaps")]
    [InlineData("cardiac_arrest_before", ">", "yes")]
    public void What_does_not_fit_is_refused(string field, string comparison, string value) =>
        Assert.Equal(ExitCode.Usage,
            Assert.Throws<Failure>(() => ConditionBuilder.Compose(Use(field), comparison, value, Titles.Shipped)).Code);

    [Fact]
    public void A_question_survives_its_link()
    {
        var question = new QuestionDefinition("first_pass")
        {
            Title = "A & b = c? é 'x'",
            From = new Month(2024, 4),
            To = new Month(2026, 3),
            Among = "age_years >= 60 and location_type = 'icu'",
            By = ["device", "urgency"],
            Versus = "not (age_years >= 60)",
            VersusFrom = new Month(2023, 4),
            VersusTo = new Month(2024, 3),
            Points = 7.5,
        };
        var again = QuestionText.Parse("?" + QuestionText.Query(question));
        Assert.Equal(question.By, again.By);
        Assert.Equal(question with { By = [] }, again with { By = [] });
    }

    [Fact]
    public void The_count_of_questions_begins_anew_with_the_day()
    {
        var clock = new Clock(new(2026, 3, 31, 23, 0, 0, TimeSpan.Zero));
        var looks = new Looks(clock);
        Assert.Equal([1, 2, 2], [looks.Note("a"), looks.Note("b"), looks.Note("a")]);
        clock.Now = clock.Now.AddHours(2);
        Assert.Equal(1, looks.Note("b"));
    }

    [Fact]
    public void The_secret_that_a_browser_is_started_with_opens_the_door_once()
    {
        var guard = new Guard(5000);
        var once = guard.Once();
        Assert.True(guard.Admit(Asking(once)));
        Assert.False(guard.Admit(Asking(once)));
        Assert.True(guard.Admit(Asking(guard.Token)));
        Assert.True(guard.Admit(Asking(guard.Token)));
        Assert.False(guard.Admit(Asking("")));
    }

    private static DefaultHttpContext Asking(string token) => new() { Request = { QueryString = new("?token=" + token) } };

    private static FieldUse Use(string name) => new[] { Location, Age, Date, Arrest }.First(use => use.Name == name);

    private sealed class Clock(DateTimeOffset now) : TimeProvider
    {
        public DateTimeOffset Now { get; set; } = now;

        public override TimeZoneInfo LocalTimeZone => TimeZoneInfo.Utc;

        public override DateTimeOffset GetUtcNow() => Now;
    }
}
