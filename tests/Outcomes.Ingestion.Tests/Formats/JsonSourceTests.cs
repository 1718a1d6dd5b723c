using System.Text;
using DuckDB.NET.Data;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Stripping;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

/// <summary>
/// JSON of RFC 8259, a list of objects or objects one after the other, as another program writes it (the SQL engine) and as people do.
/// </summary>
public sealed class JsonSourceTests
{
    private static readonly string[] Fields = ["record_id", "event_date", "spo2_min", "preox_min", "location_type", "checked", "site"];

    [Theory]
    [InlineData("ARRAY true")]
    [InlineData("ARRAY false")]
    public void What_the_engine_writes_as_a_list_or_as_lines_is_read_by_key_and_rows_are_numbered(string options)
    {
        using var place = new Workplace();
        var path = place.File([]) + ".json";
        using (var connection = new DuckDBConnection("DataSource=:memory:"))
        {
            connection.Open();
            using var command = connection.CreateCommand();
            command.CommandText = $$"""
                COPY (SELECT * FROM (VALUES
                  ('icu', DATE '2024-01-31', 97::SMALLINT, 3.50::DECIMAL(9,2), true, 'R1', 'a, "b"'),
                  ('ed', DATE '2024-02-01', 88, NULL, false, 'R2', E'two\nlines'),
                  (NULL, NULL, 12, 0.25, NULL, 'R3', ''))
                  AS t(location_type, event_date, spo2_min, preox_min, checked, record_id, site)) TO '{{path}}' (FORMAT json, {{options}})
                """;
            command.ExecuteNonQuery();
        }

        var source = Ingest.Read(new SourceRequest("s", 0, path, "s.json", Maps.Of(Fields)), Maps.Dictionary, place.Store);
        Assert.Equal(
            ["R1|2024-01-31|97|3.5|icu|yes|a, \"b\"", "R2|2024-02-01|88||ed|no|two\nlines", "R3|||0.25|||"],
            Stored.Rows(source.Stored.Records).Select(row => string.Join('|', Fields.Select(field => row[field]))));
        Assert.Equal(["1", "2", "3"], Stored.Rows(source.Stored.Records).Select(row => row["line"]));
        Assert.Equal(["missing 3:2 event_date", "out_of_range 3:3 spo2_min"], Stored.Notes(source));
        var held = Assert.Single(Quarantine.Rows(source, 0, Stored.Keep(DuplicatePolicy.Last, strict: false, source)));
        Assert.Equal((3, "R3"), (held.Line, held.Key));
    }

    [Fact]
    public void A_key_that_a_row_lacks_and_null_are_blank_and_the_order_of_keys_says_nothing()
    {
        using var place = new Workplace();
        var source = place.Read("\uFEFF\n [ {\"event_date\": \"2024-01-31\", \"record_id\": \"R1\", \"spo2_min\": 9e1},\n"
            + "{\"location_type\": null, \"record_id\": \"R2\", \"event_date\": \"2024-02-01\"}\n]\n");
        Assert.Empty(Stored.Notes(source));
        Assert.Equal(["R1|2024-01-31|90|", "R2|2024-02-01||"], Stored.Rows(source.Stored.Records)
            .Select(row => $"{row["record_id"]}|{row["event_date"]}|{row["spo2_min"]}|{row["location_type"]}"));
    }

    // The first example of RFC 8259, section 13 (its keys and nesting from memory), is an object with an object in it: no row of a table.
    [Theory]
    [InlineData("""{"Image": {"Width": 800, "Animated": false, "IDs": [116, 943]}}""", "json_rows",
        "row 1 holds a list or an object in a cell")]
    [InlineData("""[{"record_id": "R1", "event_date": "2024-01-31"}, 7]""", "json_rows", "row 2 is no object")]
    [InlineData("""[{"record_id": "R1", "record_id ": "R2"}]""", "json_rows", "row 1 has one key twice")]
    [InlineData("[{\"record_id\": \"R1\",\n \"event_date\": }]", "not_readable", "s0.csv:2: the JSON is damaged")]
    [InlineData("""[{"record_id": "R1", "site": "\uD800"}]""", "not_readable", "the JSON is damaged")]
    [InlineData("""[{"record_id": "R1"}""", "not_readable", "the JSON is damaged")]
    public void What_is_no_table_is_refused_with_its_place_and_never_its_text(string text, string rule, string said)
    {
        using var place = new Workplace();
        var failure = Assert.Throws<Failure>(() => place.Read(text));
        Assert.Equal((ExitCode.Input, rule), (failure.Code, failure.Rule));
        Assert.Contains(said, failure.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("R1", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_key_that_names_a_person_refuses_the_file_as_a_heading_would()
    {
        using var place = new Workplace();
        var failure = Assert.Throws<Failure>(() => place.Read("""[{"record_id": "R1", "event_date": "2024-01-31", "patient_name": "x"}]""",
            Maps.Of("record_id", "event_date")));
        Assert.Equal(ExitCode.Input, failure.Code);
        Assert.Contains("column 3", failure.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("[record_id],event_date,spo2_min,location_type\nR1,2024-01-31,90,icu\n")]
    [InlineData("{record_id},event_date,spo2_min,location_type\nR1,2024-01-31,90,icu\n")]
    public void A_heading_in_brackets_is_a_heading_still(string text)
    {
        using var place = new Workplace();
        var failure = Record.Exception(() => place.Read(text));
        Assert.Equal(ExitCode.Definition, Assert.IsType<Failure>(failure).Code);
        Assert.DoesNotContain("JSON", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Strip_writes_JSON_as_CSV_without_the_column_that_names_people()
    {
        using var place = new Workplace();
        var path = place.File(Encoding.UTF8.GetBytes(
            """[{"record_id": "R1", "patient_name": "x", "spo2_min": 90}, {"record_id": "R2", "patient_name": "y", "spo2_min": null}]"""));
        var result = Strip.Write(path, "s.json", path + ".copy", null, Maps.Dictionary);
        Assert.Equal("column 2 `patient_name`", Assert.Single(result.Columns).Name);
        Assert.Equal("record_id,spo2_min\nR1,90\nR2,\n", File.ReadAllText(path + ".copy"));
    }
}
