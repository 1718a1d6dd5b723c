using System.Text.Json.Nodes;
using Outcomes.Cli.Compute;

namespace Outcomes.Tests;

/// <summary>What <c>compute</c> says where a formula would give an interval without width, or one that is no interval, from few
/// records.</summary>
public class NoCertaintyTests
{
    private const string AllMet = """{"first":{"met":10,"eligible":10},"second":{"met":10,"eligible":10}}""";
    private const string NoneMet = """{"first":{"met":0,"eligible":10},"second":{"met":0,"eligible":10}}""";
    private const string Opposite = """{"first":{"met":10,"eligible":10},"second":{"met":0,"eligible":10}}""";
    private const string StrataAllMet = """{"first":[{"met":10,"eligible":10}],"second":[{"met":10,"eligible":10}]}""";
    private const string StrataOpposite = """{"first":[{"met":10,"eligible":10}],"second":[{"met":0,"eligible":10}]}""";

    [Theory]
    [InlineData("wald", """{"met":0,"eligible":3}""", 0.0)]
    [InlineData("wald", """{"met":3,"eligible":3}""", 1.0)]
    [InlineData("difference_wald", AllMet, 0.0)]
    [InlineData("difference_wald", Opposite, 1.0)]
    [InlineData("risk_ratio_katz", AllMet, 1.0)]
    [InlineData("risk_ratio_katz", NoneMet, null)]
    [InlineData("risk_ratio_katz", """{"first":{"met":0,"eligible":10},"second":{"met":4,"eligible":10}}""", 0.0)]
    [InlineData("odds_ratio_woolf", AllMet, null)]
    [InlineData("odds_ratio_woolf", """{"first":{"met":0,"eligible":10},"second":{"met":4,"eligible":10}}""", 0.0)]
    [InlineData("kappa", """{"table":[[1,0],[0,1]]}""", 1.0)]
    [InlineData("kappa", """{"table":[[0,1],[1,0]]}""", -1.0)]
    [InlineData("kappa", """{"table":[[3,0,0],[0,2,0],[0,0,1]],"weights":"linear"}""", 1.0)]
    [InlineData("kappa", """{"table":[[5,0],[1,0]]}""", 0.0)]
    [InlineData("kappa", """{"table":[[0,5],[0,1]]}""", 0.0)]
    [InlineData("mean", """{"values":[5,5,5]}""", 5.0)]
    [InlineData("mean", """{"values":[0.1,0.1,0.1]}""", 0.1)]
    [InlineData("mean", """{"values":[5]}""", 5.0)]
    [InlineData("quantile", """{"values":[5,6,7]}""", 6.0)]
    [InlineData("auc", """{"scores":[1,2,3,4],"met":[0,0,1,1]}""", 1.0)]
    [InlineData("auc", """{"scores":[1,1,1,1],"met":[0,0,1,1]}""", 0.5)]
    public void There_is_no_interval_and_the_result_says_why(string name, string json, double? value)
    {
        var result = ComputeCatalogue.Run(name, json);
        AssertNone(result);
        if (value is { } known && result["value"] is JsonValue number && number.TryGetValue<double>(out var printed))
            Assert.Equal(known, printed, 1e-12);
    }

    [Theory]
    [InlineData("odds_ratio", StrataAllMet)]
    [InlineData("odds_ratio", StrataOpposite)]
    [InlineData("risk_ratio", StrataAllMet)]
    [InlineData("risk_ratio", StrataOpposite)]
    [InlineData("difference", StrataAllMet)]
    [InlineData("difference", StrataOpposite)]
    public void Pooled_strata_without_room_for_error_have_no_interval_either(string part, string json) =>
        AssertNone(ComputeCatalogue.Run("mantel_haenszel", json)[part]!.AsObject());

    [Fact]
    public void Shrunken_groups_that_do_not_differ_have_no_interval_and_the_result_says_why() =>
        Assert.Contains("do not vary", ComputeCatalogue.Run("shrinkage", """{"met":[5,5,5],"eligible":[10,10,10]}""")
            ["why_no_interval"]!.GetValue<string>(), StringComparison.Ordinal);

    [Theory]
    [InlineData("p_chart", """{"met":[2,2,2,3],"eligible":[10,10,10,10],"baseline_points":3,"limits":"laney"}""")]
    [InlineData("u_chart", """{"events":[2,2,2,3],"exposures":[10,10,10,10],"baseline_points":3,"limits":"laney"}""")]
    [InlineData("t_chart", """{"times":[3,3,3,2],"baseline_points":3,"limits":"nelson"}""")]
    [InlineData("individuals_chart", """{"values":[5,5,5,6],"baseline_points":3}""")]
    public void A_baseline_that_does_not_vary_gives_a_chart_no_limits(string name, string json)
    {
        var result = ComputeCatalogue.Run(name, json);
        foreach (var chart in name == "individuals_chart" ? [result["values"]!, result["ranges"]!] : new[] { (JsonNode)result })
        {
            Assert.Empty(chart["beyond"]!.AsArray());
            Assert.Contains("no_variation", chart["doubts"]!.AsArray().Select(doubt => doubt!["doubt"]!.GetValue<string>()));
            Assert.All(chart["points"]!.AsArray(), point => Assert.Null(point!["upper"]));
        }
    }

    [Theory]
    [InlineData("risk_ratio_score", AllMet)]
    [InlineData("difference_newcombe", AllMet)]
    [InlineData("odds_ratio_gart", AllMet)]
    [InlineData("wilson", """{"met":3,"eligible":3}""")]
    [InlineData("kappa", """{"table":[[3,0],[1,2]]}""")]
    [InlineData("mean", """{"values":[5,5,6]}""")]
    // Six equal values: the first and the last hold the median with 31 of 32, so an interval of one point is right.
    [InlineData("quantile", """{"values":[5,5,5,5,5,5]}""")]
    public void A_method_that_holds_keeps_its_interval(string name, string json)
    {
        var result = ComputeCatalogue.Run(name, json);
        Assert.NotNull(result["lower"]);
        Assert.NotNull(result["upper"]);
        Assert.False(result.ContainsKey("why_no_interval"));
    }

    private static void AssertNone(JsonObject result)
    {
        Assert.Null(result["lower"]);
        Assert.Null(result["upper"]);
        var why = result["why_no_interval"]!.GetValue<string>();
        Assert.False(string.IsNullOrWhiteSpace(why));
        Assert.DoesNotContain("NaN", result.ToJsonString(), StringComparison.Ordinal);
    }
}
