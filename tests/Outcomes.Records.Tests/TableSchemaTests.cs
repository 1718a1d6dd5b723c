using System.Text.Json;
using Outcomes.Records;

namespace Outcomes.Tests;

/// <summary>The dictionary files against the published Table Schema specification (see <see cref="TableSchemaRules"/>).</summary>
public class TableSchemaTests
{
    [Theory]
    [InlineData(FieldDictionary.Procedure)]
    [InlineData(FieldDictionary.Attempt)]
    [InlineData(FieldDictionary.Trace)]
    public void The_shipped_dictionary_keeps_the_rules_of_the_specification(string table)
    {
        Assert.Empty(TableSchemaRules.Complaints(Shipped.Schema(table)));
    }

    [Fact]
    public void A_file_of_local_fields_keeps_them_too()
    {
        using var local = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "fixtures", "local-fields.json")));
        foreach (var schema in local.RootElement.EnumerateObject())
            Assert.Empty(TableSchemaRules.Complaints(schema.Value));
    }

    /// <summary>The specification's own examples, shortened: the rules as written here must let them pass.</summary>
    [Theory]
    [InlineData("""{"fields": [{"name": "a"}, {"name": "b"}, {"name": "c"}], "primaryKey": ["a", "c"]}""")]
    [InlineData("""{"fields": [{"name": "a"}, {"name": "b"}], "uniqueKeys": [["a"], ["a", "b"]]}""")]
    [InlineData(
        """
        {"fields": [{"name": "state-code"}],
         "foreignKeys": [{"fields": ["state-code"], "reference": {"resource": "state-codes", "fields": ["code"]}}]}
        """)]
    [InlineData(
        """{"fields": [{"name": "parent"}, {"name": "id"}], "foreignKeys": [{"fields": ["parent"], "reference": {"fields": ["id"]}}]}""")]
    [InlineData("""{"fields": [{"name": "column1"}, {"name": "column2", "missingValues": ["-"]}], "missingValues": ["", "NA"]}""")]
    [InlineData(
        """{"fields": [{"name": "x"}], "missingValues": [{"value": "", "label": "OMITTED"}, {"value": "-99", "label": "REFUSED"}]}""")]
    [InlineData("""{"fields": [{"name": "name", "type": "string", "constraints": {"pattern": "^a.*$", "minLength": 5}}]}""")]
    [InlineData("""{"fields": [{"name": "price", "type": "integer", "constraints": {"minimum": 100}}]}""")]
    [InlineData("""{"fields": [{"name": "price", "type": "object", "constraints": {"jsonSchema": {"type": "object"}}}]}""")]
    public void The_rules_let_the_specifications_examples_pass(string json)
    {
        using var schema = JsonDocument.Parse(json);
        Assert.Empty(TableSchemaRules.Complaints(schema.RootElement));
    }

    [Theory]
    [InlineData("""{}""", "fields")]
    [InlineData("""{"fields": [{"title": "x"}]}""", "name")]
    [InlineData("""{"fields": [{"name": "x"}, {"name": "x"}]}""", "name")]
    [InlineData("""{"fields": [{"name": "x", "type": "text"}]}""", "type")]
    [InlineData("""{"fields": [{"name": "x", "type": "integer", "format": "%d"}]}""", "format")]
    [InlineData("""{"fields": [{"name": "x", "type": "string", "trueValues": ["yes"]}]}""", "boolean")]
    [InlineData("""{"fields": [{"name": "x", "type": "list", "itemType": "list"}]}""", "list")]
    [InlineData("""{"fields": [{"name": "x", "type": "list", "constraints": {"minimum": 1}}]}""", "minimum")]
    [InlineData("""{"fields": [{"name": "x", "type": "integer", "constraints": {"minimum": 1.5}}]}""", "minimum")]
    [InlineData("""{"fields": [{"name": "x", "type": "integer", "constraints": {"minimum": 2, "maximum": 1}}]}""", "minimum")]
    [InlineData("""{"fields": [{"name": "x", "type": "date", "constraints": {"minimum": "1.2.2000"}}]}""", "minimum")]
    [InlineData("""{"fields": [{"name": "x", "type": "string", "constraints": {"enum": [1]}}]}""", "enum")]
    [InlineData("""{"fields": [{"name": "x", "type": "string", "categories": [{"value": "a", "title": "A"}]}]}""", "categories")]
    [InlineData("""{"fields": [{"name": "x", "type": "integer", "categories": ["a"]}]}""", "categories")]
    [InlineData("""{"fields": [{"name": "x", "type": "number", "constraints": {"pattern": "1"}}]}""", "pattern")]
    [InlineData("""{"fields": [{"name": "x", "constraints": {"largest": 3}}]}""", "constraints")]
    [InlineData("""{"fields": [{"name": "x"}], "missingValues": ["", {"value": "-"}]}""", "missingValues")]
    [InlineData("""{"fields": [{"name": "x"}], "missingValues": [{"value": "-", "label": "a"}, {"value": "?", "label": "a"}]}""",
        "missingValues")]
    [InlineData("""{"fields": [{"name": "x"}], "primaryKey": ["y"]}""", "primaryKey")]
    [InlineData("""{"fields": [{"name": "x"}], "foreignKeys": [{"fields": ["x"]}]}""", "foreignKeys")]
    [InlineData("""{"fields": [{"name": "x"}], "foreignKeys": [{"fields": ["x"], "reference": {"fields": ["a", "b"]}}]}""", "foreignKeys")]
    [InlineData("""{"fields": [{"name": "x"}], "fieldsMatch": "some"}""", "fieldsMatch")]
    public void The_rules_catch_each_breach(string json, string anchor)
    {
        using var schema = JsonDocument.Parse(json);
        var complaint = Assert.Single(TableSchemaRules.Complaints(schema.RootElement));
        Assert.StartsWith(anchor + ":", complaint, StringComparison.Ordinal);
    }

    [Fact]
    public void Keys_are_those_of_the_design()
    {
        var procedure = Shipped.Schema(FieldDictionary.Procedure);
        var attempt = Shipped.Schema(FieldDictionary.Attempt);
        Assert.Equal("""["record_id"]""", procedure.GetProperty("primaryKey").GetRawText());
        Assert.Equal("""["record_id", "attempt_no"]""", attempt.GetProperty("primaryKey").GetRawText());
        var reference = Assert.Single(attempt.GetProperty("foreignKeys").EnumerateArray()).GetProperty("reference");
        Assert.Equal("procedure", reference.GetProperty("resource").GetString());
    }
}
