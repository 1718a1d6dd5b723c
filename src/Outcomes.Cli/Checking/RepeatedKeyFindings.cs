using System.Globalization;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Records;

namespace Outcomes.Cli.Checking;

/// <summary>Words on a file most of whose rows took one another's place.</summary>
internal static class RepeatedKeyFindings
{
    /// <summary>Why such a file is refused, and what to do.</summary>
    public static string Say(IngestedSource source, Ledger ledger, int index) => string.Create(CultureInfo.InvariantCulture,
        $"{source.Request.File}: {ledger.ReplacedWithin[index]} of {source.Manifest.Rows} rows have a later row with the "
            + $"same key in the same "
            + $"file, so `{Keys.RecordId}` is most likely mapped to a column that is no key; map the key, or say `repeated_keys: expected` "
            + $"of the source where its rows are versions of one case");

    /// <summary>The same as a finding of the file as a whole.</summary>
    public static Finding Find(IngestedSource source, Ledger ledger, int index, string heading) =>
        new(LedgerKeeper.RepeatedKeys, Severity.Warn, source.Request.File, 0, heading, "", string.Create(CultureInfo.InvariantCulture,
            $"{ledger.ReplacedWithin[index]} of {source.Manifest.Rows} rows have a later row with the same key in this file. "
                + $"Is this column the key? If so, say `repeated_keys: expected` of the source in the pipeline."));
}
