-- Made by the code of 6f6501a, with the forms of its site; invented content.
BEGIN TRANSACTION;
CREATE TABLE "auth_group" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(150) NOT NULL UNIQUE);
CREATE TABLE "auth_group_permissions" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "group_id" integer NOT NULL REFERENCES "auth_group" ("id") DEFERRABLE INITIALLY DEFERRED, "permission_id" integer NOT NULL REFERENCES "auth_permission" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "auth_permission" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "content_type_id" integer NOT NULL REFERENCES "django_content_type" ("id") DEFERRABLE INITIALLY DEFERRED, "codename" varchar(100) NOT NULL, "name" varchar(255) NOT NULL);
CREATE TABLE "django_content_type" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app_label" varchar(100) NOT NULL, "model" varchar(100) NOT NULL);
CREATE TABLE "django_migrations" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app" varchar(255) NOT NULL, "name" varchar(255) NOT NULL, "applied" datetime NOT NULL);
INSERT INTO "django_migrations" VALUES(1,'contenttypes','0001_initial','2026-11-26 17:30:43.087595');
INSERT INTO "django_migrations" VALUES(2,'contenttypes','0002_remove_content_type_name','2026-11-26 17:30:43.099342');
INSERT INTO "django_migrations" VALUES(3,'auth','0001_initial','2026-11-26 17:30:43.124657');
INSERT INTO "django_migrations" VALUES(4,'auth','0002_alter_permission_name_max_length','2026-11-26 17:30:43.135081');
INSERT INTO "django_migrations" VALUES(5,'auth','0003_alter_user_email_max_length','2026-11-26 17:30:43.146365');
INSERT INTO "django_migrations" VALUES(6,'auth','0004_alter_user_username_opts','2026-11-26 17:30:43.150201');
INSERT INTO "django_migrations" VALUES(7,'auth','0005_alter_user_last_login_null','2026-11-26 17:30:43.162304');
INSERT INTO "django_migrations" VALUES(8,'auth','0006_require_contenttypes_0002','2026-11-26 17:30:43.168679');
INSERT INTO "django_migrations" VALUES(9,'auth','0007_alter_validators_add_error_messages','2026-11-26 17:30:43.174207');
INSERT INTO "django_migrations" VALUES(10,'auth','0008_alter_user_username_max_length','2026-11-26 17:30:43.179032');
INSERT INTO "django_migrations" VALUES(11,'auth','0009_alter_user_last_name_max_length','2026-11-26 17:30:43.190132');
INSERT INTO "django_migrations" VALUES(12,'auth','0010_alter_group_name_max_length','2026-11-26 17:30:43.198761');
INSERT INTO "django_migrations" VALUES(13,'auth','0011_update_proxy_permissions','2026-11-26 17:30:43.206159');
INSERT INTO "django_migrations" VALUES(14,'auth','0012_alter_user_first_name_max_length','2026-11-26 17:30:43.214036');
INSERT INTO "django_migrations" VALUES(15,'sessions','0001_initial','2026-11-26 17:30:43.224616');
INSERT INTO "django_migrations" VALUES(16,'site','0001_initial','2026-11-26 17:30:43.352143');
INSERT INTO "django_migrations" VALUES(17,'site','0002_heat_runs','2026-11-26 17:30:43.395625');
INSERT INTO "django_migrations" VALUES(18,'site','0003_jobs_and_feedback','2026-11-26 17:30:43.444675');
CREATE TABLE "django_session" ("session_key" varchar(40) NOT NULL PRIMARY KEY, "session_data" text NOT NULL, "expire_date" datetime NOT NULL);
INSERT INTO "django_session" VALUES('yge1toapwlq0lwype76ds65m70uj8s1r','.eJxVjMEOgjAQRP-lZ9N0u0spHL37DWTbrhY1kFDwYvx3S8JBL3OYefPeauBtzcNWZBnGpHoF6vTbBY4PmfYh3Xm6zTrO07qMQe-IPtaiL3OS5_lg_wSZS65vMYSebAOE0RjjfeM6BHSBLYEN3jrjEIERWiTDHUWmRqSGvUpsfZUmeY1RVA-fL-tZOU8:1xWdJ1:rOdWqNeqh_Ice5V2k5HfxDGCDy_Tog-7AhzzKzu8Teo','2026-11-27 09:30:47.550972');
INSERT INTO "django_session" VALUES('h3rp89kjdqhdget6ys46rduj1c4eki01','.eJxVjEFugzAQRa9izRpZmBhIs8w-J4gja5gZB9LGSEwgi6h3L0ip1G7f-_-9IOL86OOsMsWB4QAVFH9Zh_QpeRN8w3wdLY35MQ2d3Sb2bdWeRpav43v7L9Cj9tu7aemDfYnCrkZKxJ4a3CVu91KKd6njWvapJSnJIxI58U2bPLnE3KFboyzLQAKHau3fRRWvomv5fA4Q403H_EsDFKYsTFUXJoAzmPUpk1FchO3mAgS4XOD7B_rXU1A:1xWdJ0:gy9Qe_mBVXEtVdCSm-dVlmJ2FVsYpUS-h1khX_4JjaM','2026-11-27 09:30:46.972968');
INSERT INTO "django_session" VALUES('96nms5jg89mt9qgc87uok164f8nlirjc','.eJxVjMtOwzAQRX_FmnVk-UHsuEv2fEFdWePxpEkLjhS3ZYH4dxKpSLA9597zBQnvtyndG69pLnAAC91flpGuXHdRLljPi6Sl3tY5y30in7bJt6Xw--tz-y8wYZu290jekQ55LFqh1YMPfTDZ9MZqr4icY_IFB1eC88P4EnJQIylbslXKm-C3aOHHTAwHu_U_uDU8c9vKx2OElC5tqb80QidUJ0zfiQhaYG2fvIqGDy5ydxEinE7w_QO54lBv:1xWdJ1:aPuZ4Z2467EQ8Bb4Wb64JwTILRKCD5kSigcu5Dj4T9A','2026-11-27 09:30:47.100901');
CREATE TABLE "site_account" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "password" varchar(128) NOT NULL, "last_login" datetime NULL, "name" varchar(60) NOT NULL UNIQUE, "role" varchar(10) NOT NULL, "joined_by_code" bool NOT NULL, "is_active" bool NOT NULL);
INSERT INTO "site_account" VALUES(1,'pbkdf2_sha256$1000000$dvddNHuyucMEuZvWCbVTRF$ymTSo3kj+lwTTv5I10DwA8IGnN8Z3gxeBsSqPxukiaw=','2026-11-26 17:30:44.620625','Juniper','lead',0,1);
INSERT INTO "site_account" VALUES(2,'pbkdf2_sha256$1000000$fImivWOStyPJu1sO2iApCc$8PaZyPeB4AzqTnRmLO7vSMaVu+pOXtQVvsWseU1Mxi0=','2026-11-26 17:30:46.188620','tablet Ash','scorer',1,1);
INSERT INTO "site_account" VALUES(3,'pbkdf2_sha256$1000000$75eUTGlaKMMLzfefberVLr$wihvwbLK6Q/dWpAsPAOBEM9qvnvXfgDRNZeEkdNDc9I=','2026-11-26 17:30:46.752633','tablet Birch','scorer',1,1);
CREATE TABLE "site_adjudicationentry" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "clerk" varchar(1000) NOT NULL, "status" varchar(10) NOT NULL, "value" varchar(40) NULL, "cup" varchar(1000) NOT NULL, "reason" varchar(1000) NOT NULL, "at" datetime NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED, "pair_id" bigint NOT NULL REFERENCES "site_pairrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_adjudicationentry" VALUES(1,'clerk Cedar','answered','371','','the seven is crossed on the sheet','2026-11-26 17:30:44.656557',2,2);
INSERT INTO "site_adjudicationentry" VALUES(2,'Juniper','answered','455','','the sheet says so','2026-11-26 17:30:47.240995',2,4);
CREATE TABLE "site_answerentry" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "key" char(32) NOT NULL UNIQUE, "reading" smallint NOT NULL, "clerk" varchar(1000) NOT NULL, "status" varchar(10) NOT NULL, "value" varchar(40) NULL, "cup" varchar(1000) NOT NULL, "at" datetime NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED, "pair_id" bigint NOT NULL REFERENCES "site_pairrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_answerentry" VALUES(1,'6528dec3e70c4ad08937d033a8462c2a',1,'clerk Ash','answered','106.3','1','2026-11-26 17:30:44.656557',NULL,'','',1,1);
INSERT INTO "site_answerentry" VALUES(2,'2ab679b7739b453bb47d4da9abd67c2a',2,'clerk Birch','answered','106.3','1','2026-11-26 17:30:44.656557',NULL,'','',1,1);
INSERT INTO "site_answerentry" VALUES(3,'f31d664ec5604355a5e81a4659ac5229',1,'clerk Ash','answered','440','','2026-11-26 17:30:44.656557',NULL,'','',2,1);
INSERT INTO "site_answerentry" VALUES(4,'6cf223ad75a3483bb366473dc153e1e0',2,'clerk Birch','answered','440','','2026-11-26 17:30:44.656557',NULL,'','',2,1);
INSERT INTO "site_answerentry" VALUES(5,'ead93f8a03564563aef26b66c9839e20',1,'clerk Ash','answered','650','','2026-11-26 17:30:44.656557',NULL,'','',3,1);
INSERT INTO "site_answerentry" VALUES(6,'b95cbb24548d4f329dfbf6b1256cb6db',2,'clerk Birch','answered','650','','2026-11-26 17:30:44.656557',NULL,'','',3,1);
INSERT INTO "site_answerentry" VALUES(7,'64347837459f4f5db96050a62dd0025e',1,'clerk Ash','answered','120.9','2','2026-11-26 17:30:44.656557',NULL,'','',1,2);
INSERT INTO "site_answerentry" VALUES(8,'df3b133f2907453c95d1f7b6bd5fc1b0',2,'clerk Birch','answered','120.9','2','2026-11-26 17:30:44.656557',NULL,'','',1,2);
INSERT INTO "site_answerentry" VALUES(9,'5fbf4874637243148d2214b9c4ba01a3',1,'clerk Ash','answered','371','','2026-11-26 17:30:44.656557',NULL,'','',2,2);
INSERT INTO "site_answerentry" VALUES(10,'150f25e9e04a455291fcce6c6a8d6c1f',2,'clerk Birch','answered','317','','2026-11-26 17:30:44.656557',NULL,'','',2,2);
INSERT INTO "site_answerentry" VALUES(11,'2b9f0ab845ce4dc7be5845e1e82b47cc',1,'clerk Ash','blank',NULL,'','2026-11-26 17:30:44.656557',NULL,'','',3,2);
INSERT INTO "site_answerentry" VALUES(12,'7cf51617f6324156a809c6474ac59de1',2,'clerk Birch','blank',NULL,'','2026-11-26 17:30:44.656557',NULL,'','',3,2);
INSERT INTO "site_answerentry" VALUES(13,'c226166e9acc45b8bd6c53b107806845',1,'clerk Ash','answered','98.0','3','2026-11-26 17:30:44.656557',NULL,'','',1,3);
INSERT INTO "site_answerentry" VALUES(14,'c45cc9ff607b40998a48d04e3af3452e',2,'clerk Birch','answered','98.0','3','2026-11-26 17:30:44.656557',NULL,'','',1,3);
INSERT INTO "site_answerentry" VALUES(15,'04302c232fd54e75a3ece4983af37691',1,'clerk Ash','answered','500','','2026-11-26 17:30:44.656557',NULL,'','',2,3);
INSERT INTO "site_answerentry" VALUES(16,'5eb6439b514f45a994a1f619cf931fa7',2,'clerk Birch','answered','500','','2026-11-26 17:30:44.656557',NULL,'','',2,3);
INSERT INTO "site_answerentry" VALUES(17,'2d513b718815409683346fc266a3151e',1,'clerk Ash','answered','600','','2026-11-26 17:30:44.656557',NULL,'','',3,3);
INSERT INTO "site_answerentry" VALUES(18,'29037eec0e694db5b320e2288dffee23',2,'clerk Birch','answered','600','','2026-11-26 17:30:44.656557',NULL,'','',3,3);
INSERT INTO "site_answerentry" VALUES(19,'fc438082e2ed4b43a514a325c9382710',1,'tablet Ash','answered','455','','2026-11-26 17:30:46.875728',NULL,'','',2,4);
INSERT INTO "site_answerentry" VALUES(20,'38d10808004b4fce9faf4eb842739912',1,'tablet Ash','answered','702','','2026-11-26 17:30:46.953909',NULL,'','',3,4);
INSERT INTO "site_answerentry" VALUES(21,'fd5f108854374cdeadf961c4e54090f6',2,'tablet Birch','answered','545','','2026-11-26 17:30:47.023940',NULL,'','',2,4);
INSERT INTO "site_answerentry" VALUES(22,'319602ac16104ffcb2f19e2d081d6a8d',2,'tablet Birch','answered','702','','2026-11-26 17:30:47.093458',NULL,'','',3,4);
INSERT INTO "site_answerentry" VALUES(23,'4222bde42dec4e8eba76c35fd2a3ab54',1,'Juniper','answered','104.1','3','2026-11-26 17:30:47.146101',NULL,'','',1,4);
CREATE TABLE "site_attempt" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "kind" varchar(10) NOT NULL, "subject" varchar(80) NOT NULL, "at" datetime NOT NULL);
INSERT INTO "site_attempt" VALUES(1,'password','127.0.0.1 Juniper','2026-11-26 17:30:48.058398');
CREATE TABLE "site_boxrow" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "by" varchar(60) NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "side" varchar(6) NOT NULL, "reading_cm" varchar(40) NOT NULL, "instrument" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_boxrow" VALUES(1,'2026-11-26 17:30:44.656557','Juniper',NULL,'','','length','12.4','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(2,'2026-11-26 17:30:44.656557','Juniper',NULL,'','','length','12.4','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(3,'2026-11-26 17:30:44.656557','Juniper',NULL,'','','width','8.0','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(4,'2026-11-26 17:30:44.656557','Juniper',NULL,'','','width','8.0','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(5,'2026-11-26 17:30:44.656557','Juniper',NULL,'','','height','6.5','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(6,'2026-11-26 17:30:44.656557','Juniper',NULL,'','','height','6.5','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(7,'2026-11-26 17:30:45.296382','Juniper',NULL,'','','length','24.1','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(8,'2026-11-26 17:30:45.328312','Juniper',NULL,'','','length','24.1','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(9,'2026-11-26 17:30:45.364461','Juniper',NULL,'','','width','15.3','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(10,'2026-11-26 17:30:45.417967','Juniper',NULL,'','','width','15.3','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(11,'2026-11-26 17:30:45.461137','Juniper',NULL,'','','height','9.2','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(12,'2026-11-26 17:30:45.510480','Juniper',NULL,'','','height','9.2','steel ruler',5);
CREATE TABLE "site_change" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "who" varchar(60) NOT NULL, "what" varchar(200) NOT NULL, "old" varchar(300) NOT NULL, "new" varchar(300) NOT NULL, "why" varchar(200) NOT NULL, "event_id" bigint NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_change" VALUES(1,'2026-11-26 17:30:44.601379','Juniper','made the first account','','','',NULL);
INSERT INTO "site_change" VALUES(2,'2026-11-26 17:30:44.666588','Juniper','brought the event from its folder','','Larkspur Valley Estimation Day','',1);
INSERT INTO "site_change" VALUES(3,'2026-11-26 17:30:44.708825','Juniper','added pair P01','','Otterbrook Mill','',1);
INSERT INTO "site_change" VALUES(4,'2026-11-26 17:30:44.732233','Juniper','added pair P02','','Otterbrook Mill','',1);
INSERT INTO "site_change" VALUES(5,'2026-11-26 17:30:44.760303','Juniper','changed pair P02','entered','absent','called in sick',1);
INSERT INTO "site_change" VALUES(6,'2026-11-26 17:30:44.820768','Juniper','added item C2','','tub of elbow pasta','',1);
INSERT INTO "site_change" VALUES(7,'2026-11-26 17:30:44.872778','Juniper','added item B2','','shoe box','',1);
INSERT INTO "site_change" VALUES(8,'2026-11-26 17:30:44.979129','Juniper','added a reading of C2','','sample of 150: 63.0 g','',1);
INSERT INTO "site_change" VALUES(9,'2026-11-26 17:30:45.019200','Juniper','added a reading of C2','','sample of 150: 63.3 g','',1);
INSERT INTO "site_change" VALUES(10,'2026-11-26 17:30:45.057335','Juniper','added a reading of C2','','sample of 150: 62.8 g','',1);
INSERT INTO "site_change" VALUES(11,'2026-11-26 17:30:45.094868','Juniper','added a reading of C2','','sample of 150: 63.1 g','',1);
INSERT INTO "site_change" VALUES(12,'2026-11-26 17:30:45.138278','Juniper','added a reading of C2','','sample of 150: 64.9 g','',1);
INSERT INTO "site_change" VALUES(13,'2026-11-26 17:30:45.265920','Juniper','added a reading of C2','','2301 counted by Rowan','',1);
INSERT INTO "site_change" VALUES(14,'2026-11-26 17:30:45.296652','Juniper','added a reading of B2','','length 24.1 cm','',1);
INSERT INTO "site_change" VALUES(15,'2026-11-26 17:30:45.328460','Juniper','added a reading of B2','','length 24.1 cm','',1);
INSERT INTO "site_change" VALUES(16,'2026-11-26 17:30:45.368729','Juniper','added a reading of B2','','width 15.3 cm','',1);
INSERT INTO "site_change" VALUES(17,'2026-11-26 17:30:45.418229','Juniper','added a reading of B2','','width 15.3 cm','',1);
INSERT INTO "site_change" VALUES(18,'2026-11-26 17:30:45.461335','Juniper','added a reading of B2','','height 9.2 cm','',1);
INSERT INTO "site_change" VALUES(19,'2026-11-26 17:30:45.510818','Juniper','added a reading of B2','','height 9.2 cm','',1);
INSERT INTO "site_change" VALUES(20,'2026-11-26 17:30:45.573776','Juniper','decided on the key of C2','','2290','the lead looked at both ways',1);
INSERT INTO "site_change" VALUES(21,'2026-11-26 17:30:45.621067','Juniper','struck out a reading of C2','sample of 150: 64.9 g','','wrong tub',1);
INSERT INTO "site_change" VALUES(22,'2026-11-26 17:30:45.643642','Juniper','planned all heats again','','1 heats, 3 pairs changed','',1);
INSERT INTO "site_change" VALUES(23,'2026-11-26 17:30:45.666913','Juniper','checked pair P1 in','','','',1);
INSERT INTO "site_change" VALUES(24,'2026-11-26 17:30:45.703530','Juniper','started heat 1','','30 min','',1);
INSERT INTO "site_change" VALUES(25,'2026-11-26 17:30:45.723807','Juniper','gave heat 1 more time','30 min','35 min','a tub fell',1);
INSERT INTO "site_change" VALUES(26,'2026-11-26 17:30:45.743543','Juniper','stopped heat 1','','','all are done',1);
INSERT INTO "site_change" VALUES(27,'2026-11-26 17:30:45.758826','Juniper','made a code for a scorer','','','',NULL);
INSERT INTO "site_change" VALUES(28,'2026-11-26 17:30:46.177828','tablet Ash','joined as scorer by code','','','',NULL);
INSERT INTO "site_change" VALUES(29,'2026-11-26 17:30:46.207160','Juniper','made a code for a scorer','','','',NULL);
INSERT INTO "site_change" VALUES(30,'2026-11-26 17:30:46.720227','tablet Birch','joined as scorer by code','','','',NULL);
INSERT INTO "site_change" VALUES(31,'2026-11-26 17:30:46.792962','Juniper','made a code for a coach','','','',NULL);
INSERT INTO "site_change" VALUES(32,'2026-11-26 17:30:47.241240','Juniper','decided P01, C1','','455','the sheet says so',1);
INSERT INTO "site_change" VALUES(33,'2026-11-26 17:30:47.281212','Juniper','asked for long work: feedback','','','',1);
INSERT INTO "site_change" VALUES(34,'2026-11-26 17:30:47.508051','Juniper','released the results','','4 open points','the hall is waiting',1);
CREATE TABLE "site_cuprecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "number" varchar(1000) NOT NULL, "tare_g" varchar(40) NOT NULL, "instrument" varchar(1000) NOT NULL, "batch" varchar(1000) NOT NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "cup_once" UNIQUE ("event_id", "number"));
INSERT INTO "site_cuprecord" VALUES(1,'1','8.6','bench scale','thin',1);
INSERT INTO "site_cuprecord" VALUES(2,'2','8.5','bench scale','thin',1);
INSERT INTO "site_cuprecord" VALUES(3,'3','8.7','bench scale','thin',1);
CREATE TABLE "site_decisionentry" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "value" varchar(40) NULL, "by" varchar(1000) NOT NULL, "reason" varchar(1000) NOT NULL, "is_withdrawal" bool NOT NULL, "at" datetime NOT NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_decisionentry" VALUES(1,NULL,'lead Juniper','no fourth sample in time',0,'2026-11-26 17:30:44.656557',1,2);
INSERT INTO "site_decisionentry" VALUES(2,'2290','Juniper','the lead looked at both ways',0,'2026-11-26 17:30:45.573525',1,4);
CREATE TABLE "site_device" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "about" varchar(80) NOT NULL, "joined_at" datetime NOT NULL, "expires_at" datetime NOT NULL, "seen_at" datetime NOT NULL, "locked" bool NOT NULL, "revoked_at" datetime NULL, "account_id" bigint NOT NULL REFERENCES "site_account" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_device" VALUES(1,'browser on device','2026-11-26 17:30:44.612669','2026-11-27 09:30:44.612669','2026-11-26 17:30:44.612669',0,NULL,1);
INSERT INTO "site_device" VALUES(2,'browser on device','2026-11-26 17:30:46.178786','2026-11-27 09:30:46.178786','2026-11-26 17:30:46.178786',0,NULL,2);
INSERT INTO "site_device" VALUES(3,'browser on device','2026-11-26 17:30:46.740708','2026-11-27 09:30:46.740708','2026-11-26 17:30:46.740708',0,NULL,3);
CREATE TABLE "site_eventrecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(1000) NOT NULL, "day" date NOT NULL, "venue" varchar(1000) NOT NULL, "seed" bigint NOT NULL, "rules_toml" text NOT NULL, "released_at" datetime NULL, "released_by" varchar(60) NOT NULL, "shows_names" bool NOT NULL, "heat_places" smallint unsigned NOT NULL CHECK ("heat_places" >= 0), "shows_feedback" bool NOT NULL);
INSERT INTO "site_eventrecord" VALUES(1,'Larkspur Valley Estimation Day','2027-05-08','Larkspur Valley hall (invented)',20270508,'name = "percent accuracy"
version = 1
full_score = 100
zero_at = 1
free_within = 0
blank_score = 0
target_mass_g = 100
tie_breaks = []
decimals = 2
u_limit = 0.01
solo_allowed = true

[stations.mass]
weight = 1
lowest = 0
highest = 600

[stations.count]
weight = 1
lowest = 20
highest = 100000

[stations.volume]
weight = 1
lowest = 20
highest = 20000
','2026-11-26 17:30:47.507749','Juniper',1,4,1);
CREATE TABLE "site_handcountrow" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "by" varchar(60) NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "pieces" bigint NOT NULL, "counter" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_handcountrow" VALUES(1,'2026-11-26 17:30:44.656557','Juniper',NULL,'','',421,'Rowan',2);
INSERT INTO "site_handcountrow" VALUES(2,'2026-11-26 17:30:45.265717','Juniper',NULL,'','',2301,'Rowan',4);
CREATE TABLE "site_heatrun" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "heat" varchar(1000) NOT NULL, "started_at" datetime NOT NULL, "minutes" smallint unsigned NOT NULL CHECK ("minutes" >= 0), "stopped_at" datetime NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_heatrun" VALUES(1,'heat 1','2026-11-26 17:30:45.702859',35,'2026-11-26 17:30:45.743359',1);
CREATE TABLE "site_instrumentrecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(1000) NOT NULL, "unit" varchar(2) NOT NULL, "resolution" real NOT NULL, "gain_u" real NOT NULL, "linearity_u" real NOT NULL, "capacity" real NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "instrument_named_once" UNIQUE ("event_id", "name"));
INSERT INTO "site_instrumentrecord" VALUES(1,'bench scale','g',0.1,0.0002,0.0,6000.0,1);
INSERT INTO "site_instrumentrecord" VALUES(2,'steel ruler','cm',0.1,0.0,0.0,NULL,1);
CREATE TABLE "site_itemrecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "code" varchar(1000) NOT NULL, "station" varchar(10) NOT NULL, "name" varchar(1000) NOT NULL, "material" varchar(1000) NOT NULL, "weight" varchar(40) NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "item_once" UNIQUE ("event_id", "code"));
INSERT INTO "site_itemrecord" VALUES(1,'M1','mass','100 g of split peas','split-pea',NULL,1);
INSERT INTO "site_itemrecord" VALUES(2,'C1','count','jar of chickpeas','chickpea','1.5',1);
INSERT INTO "site_itemrecord" VALUES(3,'B1','volume','tea box','',NULL,1);
INSERT INTO "site_itemrecord" VALUES(4,'C2','count','tub of elbow pasta','',NULL,1);
INSERT INTO "site_itemrecord" VALUES(5,'B2','volume','shoe box','',NULL,1);
CREATE TABLE "site_job" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "kind" varchar(40) NOT NULL, "size" bigint NOT NULL, "state" varchar(12) NOT NULL, "asked_by" varchar(60) NOT NULL, "asked_at" datetime NOT NULL, "ended_at" datetime NULL, "n_done" bigint NOT NULL, "n_all" bigint NOT NULL, "told" text NOT NULL, "cancel_asked" bool NOT NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_job" VALUES(1,'feedback',0,'done','Juniper','2026-11-26 17:30:47.280893','2026-11-26 17:30:47.433211',4,4,'4 pages in 3 files, one a school',0,1);
CREATE TABLE "site_jobfile" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(80) NOT NULL, "content_type" varchar(80) NOT NULL, "content" BLOB NOT NULL, "job_id" bigint NOT NULL UNIQUE REFERENCES "site_job" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_jobfile" VALUES(1,'feedback.zip','application/zip',X'504B0304140000000800D78B7A5D19EE33E8D2630000E48A00001100000030312D4665726E686F6C6C6F772E706466ACBA055C94CDFA3E0E22120A8A34924A4AEE2EBB2CDDDD4AA774B3740A2848778774299D1252D2291D4A4A83489784F05BC4F7BCEFF1F0F570FE9F3F3BBBC33E31F73533D775DFF73CB3547242228C00263674AA17F03F747400390B394CD7149D8B8B59C1D9CA80594EC7C8C0965910666F69470E609634D1B7556767815FF344938707DDC052FFE25AE06FF73CB5B3B1D7B353B031307802',1);
CREATE TABLE "site_joincode" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "code_hash" varchar(64) NOT NULL UNIQUE, "role" varchar(10) NOT NULL, "made_by" varchar(60) NOT NULL, "made_at" datetime NOT NULL, "expires_at" datetime NOT NULL, "used_at" datetime NULL);
INSERT INTO "site_joincode" VALUES(1,'3157616a2a7a0c721ca3b6d371df358fd7580f64760e6531f996c161520a7f75','scorer','Juniper','2026-11-26 17:30:45.758549','2026-11-26 17:40:45.758549','2026-11-26 17:30:45.771090');
INSERT INTO "site_joincode" VALUES(2,'05df1c9ba01aebec31166d7c49091a72e2df4bb18cabcfc214fbf3df6476c2db','scorer','Juniper','2026-11-26 17:30:46.206976','2026-11-26 17:40:46.206976','2026-11-26 17:30:46.219157');
INSERT INTO "site_joincode" VALUES(3,'7e6718e2b4ad4216271d7510923dff90e3454b3ba67185c76b8ca746bbfde486','coach','Juniper','2026-11-26 17:30:46.792666','2026-11-26 17:40:46.792666',NULL);
CREATE TABLE "site_materialrecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "code" varchar(1000) NOT NULL, "name" varchar(1000) NOT NULL, "piece_cv" varchar(40) NULL, "moisture_u" varchar(40) NOT NULL, "cautions" text NOT NULL CHECK ((JSON_VALID("cautions") OR "cautions" IS NULL)), "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "material_once" UNIQUE ("event_id", "code"));
INSERT INTO "site_materialrecord" VALUES(1,'chickpea','Chickpeas','0.18','0.001','["never taste"]',1);
INSERT INTO "site_materialrecord" VALUES(2,'split-pea','Split peas',NULL,'0','[]',1);
CREATE TABLE "site_pairrecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "code" varchar(1000) NOT NULL, "school" varchar(1000) NOT NULL, "members" text NOT NULL CHECK ((JSON_VALID("members") OR "members" IS NULL)), "status" varchar(10) NOT NULL, "heat" varchar(1000) NOT NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, "arrived_at" datetime NULL, CONSTRAINT "pair_once" UNIQUE ("event_id", "code"));
INSERT INTO "site_pairrecord" VALUES(1,'P1','Fernhollow','["Ada", "Bo"]','entered','heat 1',1,'2026-11-26 17:30:45.666766');
INSERT INTO "site_pairrecord" VALUES(2,'P2','Quillbank','["Cleo", "Dov"]','entered','heat 1',1,NULL);
INSERT INTO "site_pairrecord" VALUES(3,'P3','Quillbank','["Esi"]','guest','heat 1',1,NULL);
INSERT INTO "site_pairrecord" VALUES(4,'P01','Otterbrook Mill','["Finn", "Gita"]','entered','heat 1',1,NULL);
INSERT INTO "site_pairrecord" VALUES(5,'P02','Otterbrook Mill','["Hana", "Ivo"]','absent','',1,NULL);
CREATE TABLE "site_samplerow" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "by" varchar(60) NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "pieces" bigint NOT NULL, "mass_g" varchar(40) NOT NULL, "instrument" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_samplerow" VALUES(1,'2026-11-26 17:30:44.656557','Juniper',NULL,'','',150,'63.2','bench scale',2);
INSERT INTO "site_samplerow" VALUES(2,'2026-11-26 17:30:44.656557','Juniper',NULL,'','',150,'62.8','bench scale',2);
INSERT INTO "site_samplerow" VALUES(3,'2026-11-26 17:30:44.656557','Juniper',NULL,'','',150,'63.1','bench scale',2);
INSERT INTO "site_samplerow" VALUES(4,'2026-11-26 17:30:44.978862','Juniper',NULL,'','',150,'63.0','bench scale',4);
INSERT INTO "site_samplerow" VALUES(5,'2026-11-26 17:30:45.019015','Juniper',NULL,'','',150,'63.3','bench scale',4);
INSERT INTO "site_samplerow" VALUES(6,'2026-11-26 17:30:45.057152','Juniper',NULL,'','',150,'62.8','bench scale',4);
INSERT INTO "site_samplerow" VALUES(7,'2026-11-26 17:30:45.094681','Juniper',NULL,'','',150,'63.1','bench scale',4);
INSERT INTO "site_samplerow" VALUES(8,'2026-11-26 17:30:45.138066','Juniper','2026-11-26 17:30:45.620404','Juniper','wrong tub',150,'64.9','bench scale',4);
CREATE TABLE "site_weighingrow" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "by" varchar(60) NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "gross_g" varchar(40) NOT NULL, "tare_g" varchar(40) NOT NULL, "instrument" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_weighingrow" VALUES(1,'2026-11-26 17:30:44.656557','Juniper',NULL,'','','273.2','96.4','bench scale',2);
CREATE UNIQUE INDEX "django_content_type_app_label_model_76bd3d3b_uniq" ON "django_content_type" ("app_label", "model");
CREATE UNIQUE INDEX "auth_group_permissions_group_id_permission_id_0cd325b0_uniq" ON "auth_group_permissions" ("group_id", "permission_id");
CREATE INDEX "auth_group_permissions_group_id_b120cbf9" ON "auth_group_permissions" ("group_id");
CREATE INDEX "auth_group_permissions_permission_id_84c5c92e" ON "auth_group_permissions" ("permission_id");
CREATE UNIQUE INDEX "auth_permission_content_type_id_codename_01ab375a_uniq" ON "auth_permission" ("content_type_id", "codename");
CREATE INDEX "auth_permission_content_type_id_2f476e4b" ON "auth_permission" ("content_type_id");
CREATE INDEX "django_session_expire_date_a5c62663" ON "django_session" ("expire_date");
CREATE INDEX "site_attempt_at_7dfa04d4" ON "site_attempt" ("at");
CREATE INDEX "site_attemp_kind_87c4ae_idx" ON "site_attempt" ("kind", "subject", "at");
CREATE INDEX "site_device_account_id_331400da" ON "site_device" ("account_id");
CREATE INDEX "site_change_event_id_ff4343d8" ON "site_change" ("event_id");
CREATE INDEX "site_handcountrow_item_id_0bedc90f" ON "site_handcountrow" ("item_id");
CREATE INDEX "site_decisionentry_event_id_56c790b8" ON "site_decisionentry" ("event_id");
CREATE INDEX "site_decisionentry_item_id_b41a269e" ON "site_decisionentry" ("item_id");
CREATE INDEX "site_boxrow_item_id_af59868d" ON "site_boxrow" ("item_id");
CREATE INDEX "site_answerentry_item_id_c798217c" ON "site_answerentry" ("item_id");
CREATE INDEX "site_answerentry_pair_id_4d9591e7" ON "site_answerentry" ("pair_id");
CREATE INDEX "site_adjudicationentry_item_id_ecbc7ba2" ON "site_adjudicationentry" ("item_id");
CREATE INDEX "site_adjudicationentry_pair_id_0e0e9d80" ON "site_adjudicationentry" ("pair_id");
CREATE INDEX "site_samplerow_item_id_05d5a30b" ON "site_samplerow" ("item_id");
CREATE INDEX "site_weighingrow_item_id_8133b0e5" ON "site_weighingrow" ("item_id");
CREATE INDEX "site_cuprecord_event_id_8598f54f" ON "site_cuprecord" ("event_id");
CREATE INDEX "site_instrumentrecord_event_id_c19694eb" ON "site_instrumentrecord" ("event_id");
CREATE INDEX "site_itemrecord_event_id_1955a5ca" ON "site_itemrecord" ("event_id");
CREATE INDEX "site_materialrecord_event_id_946e4554" ON "site_materialrecord" ("event_id");
CREATE INDEX "site_pairrecord_event_id_4eeefc62" ON "site_pairrecord" ("event_id");
CREATE UNIQUE INDEX "reading_made_once" ON "site_answerentry" ("pair_id", "item_id", "reading") WHERE "struck_at" IS NULL;
CREATE UNIQUE INDEX "one_heat_at_a_time" ON "site_heatrun" ("event_id") WHERE "stopped_at" IS NULL;
CREATE INDEX "site_heatrun_event_id_ef8171ed" ON "site_heatrun" ("event_id");
CREATE INDEX "site_job_event_id_7cf0061c" ON "site_job" ("event_id");
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('django_migrations',18);
INSERT INTO "sqlite_sequence" VALUES('django_content_type',25);
INSERT INTO "sqlite_sequence" VALUES('auth_permission',100);
INSERT INTO "sqlite_sequence" VALUES('auth_group',0);
INSERT INTO "sqlite_sequence" VALUES('site_itemrecord',5);
INSERT INTO "sqlite_sequence" VALUES('site_materialrecord',2);
INSERT INTO "sqlite_sequence" VALUES('site_pairrecord',5);
INSERT INTO "sqlite_sequence" VALUES('site_eventrecord',1);
INSERT INTO "sqlite_sequence" VALUES('site_account',3);
INSERT INTO "sqlite_sequence" VALUES('site_change',34);
INSERT INTO "sqlite_sequence" VALUES('site_device',3);
INSERT INTO "sqlite_sequence" VALUES('site_instrumentrecord',2);
INSERT INTO "sqlite_sequence" VALUES('site_cuprecord',3);
INSERT INTO "sqlite_sequence" VALUES('site_samplerow',8);
INSERT INTO "sqlite_sequence" VALUES('site_weighingrow',1);
INSERT INTO "sqlite_sequence" VALUES('site_handcountrow',2);
INSERT INTO "sqlite_sequence" VALUES('site_boxrow',12);
INSERT INTO "sqlite_sequence" VALUES('site_answerentry',23);
INSERT INTO "sqlite_sequence" VALUES('site_adjudicationentry',2);
INSERT INTO "sqlite_sequence" VALUES('site_decisionentry',2);
INSERT INTO "sqlite_sequence" VALUES('site_heatrun',1);
INSERT INTO "sqlite_sequence" VALUES('site_joincode',3);
INSERT INTO "sqlite_sequence" VALUES('site_job',1);
INSERT INTO "sqlite_sequence" VALUES('site_jobfile',1);
INSERT INTO "sqlite_sequence" VALUES('site_attempt',1);
COMMIT;
