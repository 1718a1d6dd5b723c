namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// The commonest words of <see cref="ClinicalWords"/> in German, French, Spanish, Italian, Dutch and the Nordic languages: places, roles,
/// findings, devices and small words of exports. Our own list, from general vocabulary; words that are surnames more often than anything
/// else are left out.
/// </summary>
internal static class ClinicalWordsAbroad
{
    private const string German =
        "abteilung akut akute akutes akuter aktiv allgemein allgemeine ambulanz anästhesie anästhesist anderer andere "
            + "apnoe arzt ärztin assistenzarzt assistenzärztin atemweg atemwege aspiration atemstillstand atmung aufnahme "
            + "aufwachraum ausland bauch "
            + "beatmung bein bewusstlos bewusstlosigkeit blutdruck blutung brand brust chefarzt chirurgie chirurgische der die das "
            + "den dem des ein eine "
            + "einer einleitung entzug erfolg erfolgreich erste erster erwachsen facharzt fachärztin fehlgeschlagen fraktur "
            + "frühdienst führungsstab "
            + "gefäß geplant gering gesichert hals haus herz herzstillstand herzinfarkt hirnblutung hypoxie infarkt innere "
            + "intensivstation intensiv "
            + "intubation ja kardiologie kardiogener katheter keine kein kinderklinik klinik klinikum krankenhaus kreislauf kopf "
            + "lunge lungenembolie "
            + "lungenentzündung lungenödem maske medizin medizinische mit mittel mittlere nacht nachtdienst nein neurologie nicht "
            + "niere niereninsuffizienz "
            + "notarzt notaufnahme notfall notfallaufnahme oberarzt oberärztin ohne operation op operationssaal pädiatrie "
            + "patient patientin pflege "
            + "pflegekraft pfleger pneumonie rettungsdienst rettungswagen schädel schädelhirntrauma schlaganfall schock "
            + "schockraum schwer schwere "
            + "schwester schwierig schwieriger sepsis septischer sonstige spätdienst spital station stationär status sturz "
            + "süd nord ost west tag "
            + "tagdienst trauma tubus übernahme umstellung unbekannt und unfall unfallchirurgie uniklinik "
            + "universitätsklinikum unklar urologie "
            + "verbrennung vergiftung verlegung versuch videolaryngoskop visite von weiblich männlich wirbelsäule zentrum "
            + "zentrale zustand zweiter "
            + "dritter überwachung aufklärung vorhanden erforderlich spatel führungsdraht larynxmaske medikament narkose";

    private const string French =
        "accident aigu aiguë anesthésie anesthésiste arrêt assistée au aux avant après avec autre autres bloc bloqué brûlure "
            + "cardiaque cardiologie cardiogénique centre cérébral chambre chef chirurgie choc clinique coma conscience crise "
            + "cutanée de des détresse "
            + "deuxième difficile digestive douleur du dysfonction échec embolie en essai état externe femme fièvre fracture "
            + "générale grave guidé "
            + "gynécologie haute hémorragie hémorragique hôpital homme hypoxie infarctus infection infirmier infirmière inconnu "
            + "inhalation insuffisance "
            + "intensifs interne intoxication intubation la le les lame laryngoscope laryngoscopie lit lourd masque médecin "
            + "médecine médical médicale "
            + "mandrin myocarde nouveau non nuit obstétrique œdème ou oui oxygène par pas patient patiente pédiatrie pédiatrique "
            + "pneumonie pneumopathie "
            + "polytraumatisme poste poumon praticien première premier programmé pulmonaire réanimation rénale respiratoire réussi "
            + "salle sans sédation "
            + "senior septique sepsis service soins sonde sous surveillance thoracique trachéale traumatisme traumatique "
            + "transfert troisième unité "
            + "urgence urgences urologie vasculaire vidéolaryngoscope voie voies aériennes déchocage résident externe matin";

    private const string Spanish =
        "jefe jefa guardia "
        + "accidente aguda agudo aérea anestesia anestesista anestesiólogo apnea aspiración asistencia box cabeza cama cardiaca "
            + "cardíaca cardiaco cardíaco cardiogénico centro cerebral choque cirugía cirujano clínica coma con consulta crítico "
            + "críticos de del derecho "
            + "difícil dificultad dolor edema el embolia emergencia emergencias en enfermera enfermería enfermero estado exitoso "
            + "fallido fallo fractura "
            + "general grave guía hemorragia herida hombre hospital hipoxia ictus infarto infección insuficiencia "
            + "intensivos intensiva interno "
            + "intoxicación intubación izquierdo la las leve los mascarilla médica médico medicina moderado mujer neumonía no "
            + "noche obstetricia otro "
            + "otros paciente paro parada pediatría pediátrica planta politraumatismo por primer primera programada pulmonar "
            + "quemadura quirófano renal "
            + "residente respiratoria respiratorio sala sangrado segundo sepsis séptico servicio shock sí sin sistema tarde tercer "
            + "torácica trasplante "
            + "traslado trauma traumatismo tubo uci unidad urgencia urgencias urología vía videolaringoscopio adjunto "
            + "especialista desconocido";

    private const string Italian =
        "acuta acuto aerea anestesia anestesista arresto aspirazione assistenza cardiaca cardiaco cardiogeno cardiologia centro "
            + "cerebrale chirurgia chirurgica chirurgo clinica coma con corsia crisi critica da del della di difficile dispnea "
            + "dolore edema elezione "
            + "embolia emergenza emorragia emorragico femmina ferita fallito frattura generale grave guida il in infarto infermiera "
            + "infermiere infezione "
            + "insufficienza intensiva interna intossicazione intubazione ipossia ictus la lama laringoscopio lieve maschera "
            + "maschio medica medicina "
            + "medico mattina moderata neurologia no non notte operatoria ospedale ostetricia paziente pediatria politrauma "
            + "polmonare polmonite "
            + "pomeriggio primario primo pronto reparto renale respiratoria respiratorio rianimazione riuscito sala secondo "
            + "sedazione senza sepsi "
            + "settico servizio shock sì soccorso specialista specializzando strutturato terapia terzo tentativo toracica traccia "
            + "trasferimento trauma "
            + "trapianto tubo unità urgenza urologia ustione videolaringoscopio vie altro altra sconosciuto";

    private const string Dutch =
        "acuut acute afdeling algemeen algemene ambulance anesthesie anesthesioloog arts assistent aspiratie bewustzijn bloeding "
            + "bloeddruk brandwonden buik cardiogene cardiologie centrum coma coassistent dag de dienst eerste een en fractuur "
            + "geen gelukt gepland "
            + "geslaagd hart hartinfarct hartstilstand hersenbloeding hoofd huis hulp hypoxie infectie intensieve interne "
            + "intubatie ja keel kinderen "
            + "kindergeneeskunde kliniek kno longembolie longontsteking longoedeem luchtweg man masker medisch medische met middag "
            + "mislukt moeilijk moeilijke "
            + "nacht nee neurologie niet nier nierfalen noord oedeem onbekend ongeval onderzoek oost operatie operatiekamer "
            + "overdracht overig overige "
            + "overplaatsing patiënt poging recovery respiratoire schok sepsis septische shock spoed spoedeisende staflid "
            + "status tube trauma tweede "
            + "uitslaapkamer van verdieping vergiftiging verpleegkundige verloskunde voerdraad vrouw west zaal ziekenhuis zonder "
            + "zorg zuid zwaar derde "
            + "specialist bloed borst ademhaling ademhalingsinsufficiëntie avond";

    private const string Nordic =
        "erikoistuva spesialisering "
        + "akut akutt akutmottagning akutmottagningen akutten anestesi anestesiläkare anæstesi anæstesilæge andra andre annan "
            + "annet andet av av- avdelning avdelningen avdeling afdeling aspiration aspirasjon blödning blødning bröst buk "
            + "centrum dag den det "
            + "drunkning ej ekstern elektiv en et ett fall fjärde forgiftning fraktur förgiftning förlossning första første "
            + "hals hjerte hjertestans "
            + "hjertestop hjärta hjärtinfarkt hjärtstopp hjärtsvikt hjerneblødning hjerteinfarkt hypoksi hypoxi huvud "
            + "infeksjon infektion intensiv "
            + "intensivvård intensivvården intensivafdeling intensivavdeling intubation intubering ja kardiogen kardiologi "
            + "kirurg kirurgi klinik "
            + "klinikk kvinna kvinde kvinne kväll lege läkare læge ledare lunga lungeemboli lungeødem lungemboli "
            + "lunginflammation lungebetennelse "
            + "lungödem luftväg luftvej luftvei man mand mann mask med medicin medisin mottagning mottak narkos natt nat nej nei "
            + "neurologi nevrologi "
            + "nord norr nyrer njure njursvikt och og okänd ukendt ukjent operation operasjon operationssal oväntad overlæge "
            + "overlege överläkare "
            + "patient pasient planerad planlagt pneumoni postoperativ respiratorisk sal sepsis septisk sjukhus sjukhuset "
            + "sjukhusets sykehus sygehus "
            + "sjuksköterska sygeplejerske sykepleier skade skada skallskada slag stroke svår svårt svikt svigt syd søndre "
            + "söder sør tredje trauma "
            + "tube tub undersökning uten utan uden ukjent universitetssjukhus universitetssjukhuset vakt vagt vård "
            + "väst vest øst öst yngre "
            + "akuutti anestesia anestesialääkäri aspiraatio ei ensimmäinen erikoislääkäri hengitys hengitysvajaus hoitaja hypoksia "
            + "infarkti intubaatio "
            + "itä ja keuhkokuume keuhkoveritulppa keskussairaala kirurgia kyllä leikkaus leikkaussali lääkäri länsi munuaisten "
            + "myrkytys mies murtuma "
            + "nainen osasto päivystys pohjoinen potilas sairaala sairaalan sepsis sokki sydän sydäninfarkti sydänpysähdys synnytys "
            + "toinen teho tehohoito "
            + "teho-osasto tuntematon vaikea vamma verenvuoto yliopistollinen yö kolmas";

    public static IEnumerable<string> All { get; } =
        string.Join(' ', German, French, Spanish, Italian, Dutch, Nordic).Split(' ', StringSplitOptions.RemoveEmptyEntries);
}
