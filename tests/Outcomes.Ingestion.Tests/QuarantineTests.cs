using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

public class QuarantineTests
{
    private const string Heading = "record_id,event_date,spo2_min,location_type\n";

    [Fact]
    public void A_row_comes_back_with_its_own_cells_as_they_were()
    {
        using var place = new Workplace();
        var source = place.Read($"{Heading}R1,2024-01-31,97,icu\nR2,\" soon \",\"a \"\"b\"\", c\",\"x\r\ny\"\n\n,,,\nR3,2024-01-31,97,icu\n"
            + $"R4,2024-01-31\n\"R5\",,=1+1,é");
        var rows = Quarantine.Rows(source, 0, Stored.Keep(DuplicatePolicy.Last, strict: false, source)).ToList();
        Assert.Equal([(1, 3, "R2"), (3, 8, ""), (4, 9, "R5")], rows.Select(row => (row.Row, row.Line, row.Key)));
        Assert.Equal(["R2", " soon ", "a \"b\", c", "x\r\ny"], rows[0].Cells);
        Assert.Equal(["R4", "2024-01-31"], rows[1].Cells);
        Assert.Equal(["R5", "", "=1+1", "é"], rows[2].Cells);
    }

    [Fact]
    public void A_row_of_a_workbook_comes_back_as_text_while_the_workbook_is_there()
    {
        using var place = new Workplace();
        var path = place.File(File.ReadAllBytes(Path.Combine(Fixtures.Folder, "ingestion", "date-pattern.xlsx")));
        var source = Ingest.Read(new SourceRequest("s", 0, path, "s.xlsx", Maps.Of("record_id", "event_date")),
            Maps.Dictionary, place.Store);
        var ledger = Stored.Keep(DuplicatePolicy.Last, strict: false, source);
        var rows = Quarantine.Rows(source, 0, ledger).ToList();
        Assert.Equal(["3: R2, 31/01/2024"], rows.Select(row => $"{row.Line}: {string.Join(", ", row.Cells)}"));

        File.Delete(path);
        var failure = Assert.Throws<Failure>(() => Quarantine.Rows(source, 0, ledger).ToList());
        Assert.Equal((ExitCode.Input, "s.xlsx"), (failure.Code, failure.File));
    }

    [Fact]
    public void Nothing_quarantined_opens_no_file()
    {
        using var place = new Workplace();
        var source = place.Read($"{Heading}R1,2024-01-31,97,icu\n");
        File.Delete(source.Request.Path);
        Assert.Empty(Quarantine.Rows(source, 0, Stored.Keep(DuplicatePolicy.Last, strict: false, source)));
    }
}
