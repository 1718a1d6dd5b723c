using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Tests;

public sealed class LockDownTests
{
    [Theory]
    [InlineData("SELECT * FROM read_text('{0}/secret.txt')")]
    [InlineData("SELECT * FROM read_csv('{0}/secret.txt')")]
    [InlineData("SELECT * FROM '{0}/secret.parquet'")]
    [InlineData("SELECT * FROM read_parquet('{0}/*.parquet')")]
    [InlineData("SELECT * FROM glob('{0}/*')")]
    [InlineData("SELECT * FROM read_text('https://localhost/x')")]
    [InlineData("COPY (SELECT 1) TO '{0}/out.csv'")]
    [InlineData("COPY (SELECT 1) TO '{0}/0-records.parquet'")]
    [InlineData("ATTACH '{0}/x.db'")]
    [InlineData("INSTALL httpfs")]
    [InlineData("LOAD httpfs")]
    [InlineData("SET threads = 1")]
    [InlineData("PRAGMA enable_external_access")]
    [InlineData("CREATE TABLE x AS SELECT 1")]
    [InlineData("DELETE FROM set_aside_records")]
    [InlineData("SELECT 1; SELECT 2")]
    [InlineData("SELECT 1; SET threads = 1")]
    [InlineData("")]
    [InlineData("SELECT nothing FROM records")]
    public void A_query_reads_the_records_and_nothing_else(string sql)
    {
        using var store = new Store().Add("SELECT 'a' AS record_id, DATE '2026-01-05' AS event_date");
        var folder = Path.GetDirectoryName(store.Sources[0].Records[0])!;
        File.WriteAllText(Path.Combine(folder, "secret.txt"), "secret");
        File.Copy(store.Sources[0].Records[0], Path.Combine(folder, "secret.parquet"));
        using var engine = Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions { AsOf = new DateOnly(2026, 3, 31) });
        var failure = Assert.Throws<Failure>(() => engine.Query(string.Format(null, sql, folder)));
        Assert.Equal(ExitCode.Usage, failure.Code);
        Assert.DoesNotContain('\n', failure.Message);
        Assert.Equal(3, Directory.GetFiles(folder).Length);
        Assert.Equal("a", engine.Query("SELECT record_id FROM records").Rows.Single()[0]);
    }

    [Fact]
    public void A_store_whose_path_holds_signs_that_mean_something_elsewhere_can_be_read()
    {
        using var store = new Store("it's [a] {b} *? #1")
            .Add("SELECT 'a' AS record_id, DATE '2026-01-05' AS event_date", "SELECT 'a' AS record_id, 1 AS attempt_no");
        using var engine = Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions { AsOf = new DateOnly(2026, 3, 31) });
        Assert.Equal(1, engine.Query("SELECT attempt_rows FROM records").Rows.Single()[0]);
    }
}
