using DuckDB.NET.Data;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;

namespace Outcomes.Tests.Ingestion;

/// <summary>Parquet files that another program wrote (the SQL engine), read as sources.</summary>
public class ParquetSourceTests
{
    [Fact]
    public void Typed_columns_are_read_by_name_and_rows_are_numbered()
    {
        using var place = new Workplace();
        var source = Read(place, """
            SELECT * FROM (VALUES
              ('icu', DATE '2024-01-31', TIME '14:10:00', 97::SMALLINT, 3.50::DECIMAL(9,2), true, 'R1', 'a, "b"', [1, 2]),
              ('ed', DATE '2024-02-01', NULL, 88, NULL, false, 'R2', E'two\nlines', NULL),
              (NULL, NULL, TIME '23:59:00', 12, 0.25, NULL, 'R3', '', NULL))
              AS t(location_type, event_date, event_time, spo2_min, preox_min, checked, record_id, site, nested)
            """, Fields);
        Assert.Equal(
            ["R1|2024-01-31|850|97|3.5|icu|yes|a, \"b\"", "R2|2024-02-01||88||ed|no|two\nlines", "R3||1439||0.25|||"],
            Stored.Rows(source.Stored.Records).Select(row => string.Join('|', Fields.Select(field => row[field]))));
        Assert.Equal(["1", "2", "3"], Stored.Rows(source.Stored.Records).Select(row => row["line"]));
        Assert.Equal(["missing 3:2 event_date", "out_of_range 3:4 spo2_min"], Stored.Notes(source));
        var held = Assert.Single(Quarantine.Rows(source, 0, Stored.Keep(DuplicatePolicy.Last, strict: false, source)));
        Assert.Equal((3, "R3"), (held.Line, held.Key));
        Assert.Equal(["", "", "23:59", "12", "0.25", "", "R3", ""], held.Cells);
    }

    [Theory]
    [InlineData("97::BIGINT", "97")]
    [InlineData("97::UTINYINT", "97")]
    [InlineData("97.0::DOUBLE", "97")]
    [InlineData("'97'", "97")]
    public void A_whole_number_is_one_in_every_type(string value, string stored)
    {
        using var place = new Workplace();
        var source = Read(place, $"SELECT 'R1' AS record_id, DATE '2024-01-31' AS event_date, {value} AS spo2_min",
            ["record_id", "event_date", "spo2_min"]);
        Assert.Empty(Stored.Notes(source));
        Assert.Equal(stored, Assert.Single(Stored.Rows(source.Stored.Records))["spo2_min"]);
    }

    [Theory]
    [InlineData("3.7::FLOAT", "3.7")]
    [InlineData("0.1::DOUBLE + 0.2::DOUBLE", "0.3")]
    [InlineData("0.0000125::DOUBLE", "1.25E-05")]
    [InlineData("TIMESTAMP '2024-01-31 14:10:00'", null)]
    public void A_number_is_the_number_that_it_shows(string value, string? stored)
    {
        using var place = new Workplace();
        var source = Read(place, $"SELECT 'R1' AS record_id, TIMESTAMP '2024-01-31 14:10:00' AS event_date, {value} AS preox_min",
            ["record_id", "event_date", "preox_min"]);
        var row = Assert.Single(Stored.Rows(source.Stored.Records));
        Assert.Equal(("2024-01-31", stored), (row["event_date"], row["preox_min"]));
    }

    [Fact]
    public void Many_row_groups_keep_their_order()
    {
        using var place = new Workplace();
        var source = Read(place, "SELECT 'R' || i AS record_id, DATE '2024-01-31' AS event_date FROM range(10000) t(i)",
            ["record_id", "event_date"], "ROW_GROUP_SIZE 2048");
        Assert.Equal(Enumerable.Range(0, 10_000).Select(i => $"R{i}|{i + 1}"),
            Stored.Rows(source.Stored.Records).Select(row => $"{row["record_id"]}|{row["line"]}"));
    }

    private static readonly string[] Fields =
    [
        "record_id", "event_date", "event_time", "spo2_min", "preox_min", "location_type", "checked", "site"
    ];

    private static IngestedSource Read(Workplace place, string sql, string[] fields, string options = "COMPRESSION zstd")
    {
        var path = place.File([]) + ".parquet";
        using (var connection = new DuckDBConnection("DataSource=:memory:"))
        {
            connection.Open();
            using var command = connection.CreateCommand();
            command.CommandText = $"COPY ({sql}) TO '{path}' (FORMAT parquet, {options})";
            command.ExecuteNonQuery();
        }

        return Ingest.Read(new SourceRequest("s", 0, path, "s.parquet", Maps.Of(fields)), Maps.Dictionary, place.Store);
    }
}
