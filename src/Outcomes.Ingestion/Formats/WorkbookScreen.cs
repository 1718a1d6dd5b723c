using System.IO.Compression;
using System.Xml;
using Outcomes.Records;

namespace Outcomes.Ingestion.Formats;

/// <summary>
/// Looks at a workbook's parts before any of them is inflated. The limits are common practice for readers of zipped office files:
/// a part of more than 100 KB that packs to less than a hundredth is a bomb, not a table.
/// </summary>
internal static class WorkbookScreen
{
    private const int MaximumParts = 5_000;
    private const long MaximumBytes = 2L << 30;
    private const long MaximumSharedStrings = 256L << 20;
    private const long RatioFrom = 100 * 1024;
    private const double MinimumRatio = 0.01;

    /// <summary>Refuses what is no plain workbook or would not fit in memory.</summary>
    /// <returns>True when the workbook counts days from 1904.</returns>
    /// <exception cref="Failure">The reason, in words (exit 4).</exception>
    public static bool Check(Stream file, string name)
    {
        Failure Refuse(string words, string rule) => new(ExitCode.Input, words, name, rule: rule);
        using var zip = new ZipArchive(file, ZipArchiveMode.Read, leaveOpen: true);
        if (zip.Entries.Count > MaximumParts)
            throw Refuse("the workbook has more than 5,000 parts; export the one sheet alone", "workbook_limit");
        long total = 0;
        foreach (var part in zip.Entries)
        {
            // The library that inflates a part stops at the length that is declared here, so a false one gains nothing.
            total += part.Length;
            if (part.Length > RatioFrom && part.CompressedLength < part.Length * MinimumRatio)
                throw Refuse("a part of the workbook unpacks to more than a hundred times its size, as no table does; "
                    + "export it as CSV UTF-8", "workbook_limit");
            if (part.Length > MaximumSharedStrings && Is(part, "xl/sharedStrings.xml"))
                throw Refuse("the workbook holds more than 256 MiB of text; export it as CSV UTF-8", "workbook_limit");
            if (part.IsEncrypted) throw Refuse("the workbook is encrypted; save it without a password", "encrypted_or_old_workbook");
        }

        if (total > MaximumBytes) throw Refuse("the workbook unpacks to more than 2 GiB; export it as CSV UTF-8", "workbook_limit");
        if (zip.Entries.Any(part => part.FullName.EndsWith("vbaProject.bin", StringComparison.OrdinalIgnoreCase)
            || part.FullName.StartsWith("xl/macrosheets/", StringComparison.OrdinalIgnoreCase)))
            throw Refuse("the workbook holds macros; save it as .xlsx, which has none", "workbook_macros");
        if (zip.Entries.Any(part => part.FullName.StartsWith("xl/externalLinks/", StringComparison.OrdinalIgnoreCase)))
            throw Refuse("the workbook has links to other files, so its values are not its own; break the links and save it again",
                "workbook_links");
        var workbook = zip.Entries.FirstOrDefault(part => Is(part, "xl/workbook.xml"))
            ?? throw Refuse("the file is an archive and no .xlsx workbook; save the table as .xlsx or CSV UTF-8", "not_readable");
        return CountsFrom1904(workbook);
    }

    private static bool Is(ZipArchiveEntry part, string name) => string.Equals(part.FullName, name, StringComparison.OrdinalIgnoreCase);

    // Only cells that are formatted as dates come as dates from the reader: the rest need to know the calendar.
    private static bool CountsFrom1904(ZipArchiveEntry workbook)
    {
        using var xml = XmlReader.Create(workbook.Open(),
            new XmlReaderSettings { DtdProcessing = DtdProcessing.Prohibit, XmlResolver = null, CloseInput = true });
        while (xml.Read())
            if (xml is { NodeType: XmlNodeType.Element, LocalName: "workbookPr" })
                return xml.GetAttribute("date1904") is "1" or "true" or "on";
        return false;
    }
}
