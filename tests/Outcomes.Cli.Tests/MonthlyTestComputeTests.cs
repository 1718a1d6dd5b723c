using System.Text.Json.Nodes;
using Outcomes.Cli.Compute;

namespace Outcomes.Tests;

public class MonthlyTestComputeTests
{
    private const string Year =
        "\"events\": [1, 2, 1, 1, 2, 2, 1, 1, 2, 1, 2, 1EVENTS], \"cases\": [9, 11, 10, 8, 12, 10, 9, 11, 10, 10, 12, 8CASES]";

    [Theory]
    [InlineData("", "", 12, "nothing_tested_yet")]
    [InlineData(", 2", ", 10", 12, "no_sign_of_change")]
    [InlineData(", 2", ", 10", 11, "too_few_to_judge")]
    [InlineData(", 6, 7, 8", ", 10, 10, 10", 12, "change_signal")]
    public void The_state_says_whether_anything_was_tested(string events, string cases, int history, string state)
    {
        var result = Run(events, cases, history);
        Assert.Equal(state, result["state"]!.GetValue<string>());
        Assert.Equal(state == "change_signal", result["signals"]!.AsArray().Count > 0);
        Assert.Equal(state == "too_few_to_judge", result["limits"] is null);
        Assert.Equal(state == "too_few_to_judge", result["level"] is null);
    }

    [Fact]
    public void Too_few_cases_are_too_few_to_judge_and_say_so_in_all_three_statistics()
    {
        const string few = """{"events":[0,1,0,0,0,1,0,0,0,0,1,0,1],"cases":[2,3,2,3,2,3,2,3,2,3,2,3,5]""";
        Assert.Equal("too_few_to_judge", ComputeCatalogue.Run("monthly_test", few + "}")["state"]!.GetValue<string>());
        var power = ComputeCatalogue.Run("monthly_test_power", few + ",\"changed\":0.5}");
        Assert.Equal("too_few_to_judge", power["state"]!.GetValue<string>());
        Assert.Empty(power["noticed"]!.AsArray());
        var planned = ComputeCatalogue.Run("planned_comparison",
            """{"events_before":[1,2],"cases_before":[20,19],"events_after":[3],"cases_after":[60]}""");
        Assert.Equal("too_few_to_judge", planned["state"]!.GetValue<string>());
        Assert.Null(planned["lower"]);
        Assert.Contains("40 cases", planned["why_no_interval"]!.GetValue<string>(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_signal_names_its_months_and_a_case_mix_adds_what_was_expected()
    {
        var result = Run(", 6, 7, 8", ", 10, 10, 10", 12, ", \"start\": \"2024-01\"");
        var signal = result["signals"]![0]!;
        Assert.Equal(("worse", "2025-01"), (signal["way"]!.GetValue<string>(), signal["since"]!.GetValue<string>()));
        Assert.False(result.ContainsKey("expected"));
        var chances = string.Join(", ", Enumerable.Repeat("0.15", 150));
        var mixed = Run(", 6, 7, 8", ", 10, 10, 10", 12, $", \"expected\": [{chances}]");
        Assert.Equal(3, mixed["expected"]!.AsArray().Count);
    }

    private static JsonObject Run(string events, string cases, int history, string more = "") =>
        ComputeCatalogue.Run("monthly_test", "{" + Year.Replace("EVENTS", events, StringComparison.Ordinal)
            .Replace("CASES", cases, StringComparison.Ordinal) + $", \"history\": {history}{more}}}");
}
