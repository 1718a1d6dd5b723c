using Outcomes.Cli.Definitions;
using Outcomes.Ingestion.Mapping;
using Outcomes.Records;

namespace Outcomes.Tests.Cli;

public sealed class MappingFileTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("outcomes-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Derived_fields_and_several_columns_are_read()
    {
        var mapping = Read("""
            columns:
              record_id: {column: id}
              spo2_min: {column: ["Monitor", "Chart"], unit: fraction}
            derive:
              hour_band: {from_time: "Time", time: HH:mm:ss, missing: ["n/k"]}
              age_band: {from_age: "Age"}
              day_type: {from_date: "Day", date: dd/MM/yyyy, holidays: [2026-12-25]}
            """);
        Assert.Equal(["Chart"], mapping.Columns[1].Others);
        Assert.Equal([DeriveFrom.Time, DeriveFrom.Age, DeriveFrom.Date], mapping.Columns[2..].Select(column => column.Derive!.From));
        Assert.Equal(["HH:mm:ss", null, "dd/MM/yyyy"], mapping.Columns[2..].Select(column => column.Pattern));
        Assert.Equal(new DateOnly(2026, 12, 25), Assert.Single(mapping.Columns[4].Derive!.Holidays));
    }

    [Theory]
    [InlineData("derive: {urgency: {from_time: T}}", "cannot be derived")]
    [InlineData("derive: {hour_band: {from_age: T}}", "unknown key `from_age`")]
    [InlineData("derive: {day_type: {from_date: T}}", "`holidays` is missing")]
    [InlineData("derive: {day_type: {from_date: T, holidays: [25/12/2026]}}", "such as 2026-12-25")]
    [InlineData("constants: {a: b}\nattempts: {wide: 'x'}", "needs {n}")]
    public void A_wrong_key_is_an_error_at_its_line(string text, string words)
    {
        var failure = Assert.Throws<Failure>(() => Read("columns: {record_id: {column: id}}\n" + text));
        Assert.Contains(words, failure.Message, StringComparison.Ordinal);
        Assert.Equal(ExitCode.Definition, failure.Code);
    }

    [Theory]
    [InlineData("{column: [], unit: s}")]
    [InlineData("{column: [A, A]}")]
    [InlineData("{column: D, date: dd/MM/yyyy, time: HH:mm}")]
    public void A_column_without_sense_is_an_error(string entry) =>
        Assert.Equal(ExitCode.Definition, Assert.Throws<Failure>(() => Read("columns:\n  event_date: " + entry)).Code);

    private SourceMapping Read(string text)
    {
        var path = Path.Combine(_folder, "mapping.yaml");
        File.WriteAllText(path, text);
        return MappingFile.Read(path, "mapping.yaml");
    }
}
