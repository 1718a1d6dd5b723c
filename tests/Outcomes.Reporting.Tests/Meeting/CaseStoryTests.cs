using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;
using Outcomes.Records;
using Outcomes.Reporting.Meeting;

namespace Outcomes.Tests.Reporting.Meeting;

public sealed class CaseStoryTests
{
    [Fact]
    public void A_case_is_told_in_one_line_from_its_fields() => Assert.Equal(
        "60 to 74 years, hypoxaemia, two attempts, lowest saturation 61 %, plan B.",
        Tell(("age_band", "60-74"), ("primary_indication", "hypoxaemia"), ("attempts", "2"), ("lowest_spo2", "61"), ("final_plan", "B")));

    [Theory]
    [InlineData("1", "One attempt.")]
    [InlineData("0", "No attempts.")]
    [InlineData("12", "12 attempts.")]
    public void The_number_of_attempts_agrees_with_its_noun(string attempts, string line) =>
        Assert.Equal(line, Tell(("attempts", attempts)));

    [Fact]
    public void What_is_not_recorded_is_left_out_and_nothing_recorded_says_so() =>
        Assert.Equal("The record says nothing beyond what fired.", Tell());

    [Fact]
    public void Events_are_told_only_where_they_happened() => Assert.Equal("Cardiac arrest, died within 24 hours.",
        Tell(("oesophageal", "no"), ("cardiac_arrest_peri", "yes"), ("death_24h", "yes")));

    [Fact]
    public void A_saturation_too_low_to_measure_has_no_number() =>
        Assert.Equal("Lowest saturation too low to measure.", Tell(("lowest_spo2", "unrecordable")));

    [Fact]
    public void A_pressure_is_told_only_where_a_flag_shows_it()
    {
        Assert.Equal("One attempt.", Tell(("attempts", "1"), ("lowest_sbp", "58")));
        Assert.Equal("Lowest systolic pressure 58 mmHg.",
            Tell([new("low", Tier.One, "x") { Shows = ["lowest_sbp"] }], ("lowest_sbp", "58")));
    }

    private static string Tell(params (string Column, string Value)[] values) => Tell([], values);

    private static string Tell(ImmutableArray<Flag> flags, params (string Column, string Value)[] values)
    {
        var each = new ReviewCase("ABC234", CaseKind.One, flags)
        {
            Values = values.ToImmutableDictionary(pair => pair.Column, pair => pair.Value),
        };
        return CaseStory.Tell(each, new() { PipelineName = "harbour", Month = new Month(2026, 3), Records = 1, Cases = [each] })
            .Replace('\u00a0', ' ');
    }
}
