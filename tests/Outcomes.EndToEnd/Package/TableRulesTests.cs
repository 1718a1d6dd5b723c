using System.Text.Json.Nodes;

namespace Outcomes.Tests.EndToEnd;

/// <summary>The judge of tables can say no: one broken cell of each kind.</summary>
public sealed class TableRulesTests
{
    [Theory]
    [InlineData("""{"name": "a", "type": "integer"}""", "1", "1.5")]
    [InlineData("""{"name": "a", "type": "number"}""", "-1.5E-7", "1,5")]
    [InlineData("""{"name": "a", "type": "boolean", "trueValues": ["yes"], "falseValues": ["no"]}""", "no", "true")]
    [InlineData("""{"name": "a", "type": "boolean"}""", "false", "no")]
    [InlineData("""{"name": "a", "type": "date"}""", "2026-02-28", "2026-02-30")]
    [InlineData("""{"name": "a", "type": "yearmonth"}""", "2026-12", "2026-13")]
    [InlineData("""{"name": "a", "type": "string", "constraints": {"required": true}}""", "x", "")]
    [InlineData("""{"name": "a", "type": "string", "constraints": {"enum": ["x"]}}""", "x", "y")]
    [InlineData("""{"name": "a", "type": "string", "constraints": {"pattern": "^x+$"}}""", "xx", "xy")]
    [InlineData("""{"name": "a", "type": "integer", "constraints": {"minimum": 9}}""", "10", "8")]
    [InlineData("""{"name": "a", "type": "integer", "constraints": {"maximum": 9}}""", "9", "10")]
    [InlineData("""{"name": "a", "type": "date", "constraints": {"minimum": "2000-01-01"}}""", "2000-01-01", "1999-12-31")]
    public void A_cell_is_accepted_or_refused_as_the_standard_says(string field, string good, string bad)
    {
        var schema = JsonNode.Parse($$"""{"fields": [{{field}}]}""")!;
        Assert.Empty(TableRules.Broken(schema, ["a"], [[good]]));
        Assert.Single(TableRules.Broken(schema, ["a"], [[good], [bad]]));
    }

    [Fact]
    public void A_repeated_key_and_a_column_out_of_order_are_refused()
    {
        var schema =
            JsonNode.Parse("""{"fields": [{"name": "a", "type": "string"}, {"name": "b", "type": "string"}], "primaryKey": ["a", "b"]}""")!;
        Assert.Empty(TableRules.Broken(schema, ["a", "b"], [["1", "2"], ["1", "3"]]));
        Assert.Single(TableRules.Broken(schema, ["a", "b"], [["1", "2"], ["1", "2"]]));
        Assert.Single(TableRules.Broken(schema, ["b", "a"], [["1", "2"]]));
    }
}
